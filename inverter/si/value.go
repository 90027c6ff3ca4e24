package si

// A Value reads text into a float64 that it points to. It is an encoding.TextUnmarshaler and
// TextMarshaler, and has the methods that command-line flags ask for.
type Value struct {
	at *float64
	of Dimension
}

// Into returns a Value that reads quantities of d into x.
func (d Dimension) Into(x *float64) Value { return Value{at: x, of: d} }

// UnmarshalText reads a quantity; after an error the old value stands.
func (v Value) UnmarshalText(text []byte) error {
	x, err := v.of.Parse(string(text))
	if err == nil {
		*v.at = x
	}
	return err
}

// MarshalText returns the quantity as [Dimension.Text] writes it.
func (v Value) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Set reads a quantity from a flag.
func (v Value) Set(text string) error { return v.UnmarshalText([]byte(text)) }

// String returns the quantity as [Dimension.Text] writes it.
func (v Value) String() string {
	if v.at == nil {
		return ""
	}
	return v.of.Text(*v.at)
}

// Type returns the noun of the quantity, which help texts show.
func (v Value) Type() string { return v.of.String() }

// Dimension returns what the quantity is of.
func (v Value) Dimension() Dimension { return v.of }
