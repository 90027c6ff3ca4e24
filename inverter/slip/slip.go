// Package slip finds the word that a slip of the hand turned into another.
package slip

import (
	"fmt"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Nearest returns the word that a slip of the hand turned into s, or "". A word that is all but its own
// length away is another word.
func Nearest(s string, words []string) string {
	best, bound := "", len(s)/3
	switch {
	case len(s) >= 4:
		bound = max(bound, 2) // two letters changing places count as two
	case len(s) >= 2:
		bound = 1
	}
	for _, w := range words {
		if d := levenshtein.ComputeDistance(strings.ToLower(s), w); d <= bound && d < len(w) {
			best, bound = w, d-1
		}
	}
	return best
}

// Meant asks whether the word that is nearest to s is meant, to end what a message says of s; it is empty where there
// is none.
func Meant(s string, words []string) string {
	if w := Nearest(s, words); w != "" {
		return fmt.Sprintf("; did you mean %s?", w)
	}
	return ""
}
