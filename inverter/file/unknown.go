package file

import (
	"fmt"
	"strings"

	"sextant/inverter/slip"
)

// Unknown says that s is not a noun, with the one that may be meant, and all that there are.
func Unknown(noun, s string, words []string) error {
	return fmt.Errorf("%q is not a %s%s; allowed: %s", s, noun, Meant(s, words), strings.Join(words, ", "))
}

// Meant asks whether the nearest word is meant, where there is one.
func Meant(s string, words []string) string {
	if w := slip.Nearest(s, words); w != "" {
		return fmt.Sprintf("; did you mean %s?", w)
	}
	return ""
}
