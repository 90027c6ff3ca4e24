package file

import (
	"fmt"
	"strings"

	"sextant/inverter/slip"
)

// Unknown says that s is not a noun, with the one that may be meant, and all that there are.
func Unknown(noun, s string, words []string) error {
	return fmt.Errorf("%q is not a %s%s; allowed: %s", s, noun, slip.Meant(s, words), strings.Join(words, ", "))
}
