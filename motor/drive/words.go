package drive

import "fmt"

// The words of scenario files, indexed by the values that they stand for.
var (
	followWords   = []string{"clock", "rotor", "current"}
	chopSideWords = []string{"high", "low", "both"}
	kindWords     = []string{"permanent-magnet", "passive"}
	emfWords      = []string{"sine", "trapezoid"}
	joinWords     = []string{"star", "delta"}
)

// String returns the word that scenario files have for f.
func (f Follow) String() string { return word(followWords, int(f)) }

// String returns the word that scenario files have for c.
func (c ChopSide) String() string { return word(chopSideWords, int(c)) }

func word(words []string, i int) string {
	if i < len(words) {
		return words[i]
	}
	return fmt.Sprintf("value %d", i)
}
