package drive

import (
	"fmt"
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest returns the word that a slip of the hand turned into s, or "". A word that is all but its own
// length away is another word.
func nearest(s string, words []string) string {
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

// unknown says that s is not a noun, with the one that may be meant, and all that there are.
func unknown(noun, s string, words []string) error {
	return fmt.Errorf("%q is not a %s%s; allowed: %s", s, noun, meant(s, words), strings.Join(words, ", "))
}

// meant asks whether the nearest word is meant, where there is one.
func meant(s string, words []string) string {
	if w := nearest(s, words); w != "" {
		return fmt.Sprintf("; did you mean %s?", w)
	}
	return ""
}
