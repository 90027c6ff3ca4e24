package drive

import (
	"fmt"

	"sextant/motor"
)

// The words of scenario files, indexed by the values that they stand for.
var (
	followWords   = []string{"clock", "rotor", "current"}
	chopSideWords = []string{"high", "low", "both"}
	kindWords     = printed(motor.PermanentMagnet, motor.Passive)
	emfWords      = printed(motor.Sine, motor.Trapezoid)
	joinWords     = printed(motor.Star, motor.Delta)
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

// printed returns the words that values print as.
func printed[T fmt.Stringer](values ...T) []string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = v.String()
	}
	return words
}
