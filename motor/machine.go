package motor

// A Kind is what the bridge feeds.
type Kind uint8

// The kinds: a permanent-magnet synchronous machine, or a passive star of resistance and inductance.
const (
	PermanentMagnet Kind = iota
	Passive
)

// A Connection is how the three windings are joined.
type Connection uint8

// The connections. The star's neutral is isolated.
const (
	Star Connection = iota
	Delta
)

// A Machine holds the parameters of what the bridge feeds, per winding.
type Machine struct {
	Kind        Kind
	Connection  Connection
	PolePairs   int
	Resistance  float64 // Ω
	InductanceD float64 // H
	InductanceQ float64 // H
	FluxLinkage float64 // peak, Wb
}
