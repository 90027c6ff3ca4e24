package file

import (
	"fmt"
	"strconv"
	"strings"

	"sextant/inverter/si"
)

// Quantity reads a number of a dimension, a string with or a bare number without a unit.
func Quantity(value any, of si.Dimension) (float64, error) {
	switch v := value.(type) {
	case string:
		return of.Parse(v)
	case int64:
		return of.Bare(float64(v))
	case float64:
		return of.Bare(v)
	}
	return 0, fmt.Errorf("%s is not a %v; give %s", Called(value), of, of.Advice())
}

// Word returns the index of a value among words, of which each is a noun.
func Word(value any, noun string, words []string) (int, error) {
	s, ok := value.(string)
	if !ok {
		return 0, fmt.Errorf("%s is not a %s; allowed: %s", Called(value), noun, strings.Join(words, ", "))
	}
	for i, w := range words {
		if s == w {
			return i, nil
		}
	}
	return 0, Unknown(noun, s, words)
}

// Prose reads a string.
func Prose(value any) (string, error) {
	s, ok := value.(string)
	if !ok {
		return "", fmt.Errorf("%s is not text; put it in quotes", Called(value))
	}
	return s, nil
}

// Called shows a value of a file in a message.
func Called(value any) string {
	switch v := value.(type) {
	case string:
		return strconv.Quote(v)
	case []any:
		if len(v) == 1 {
			return "a list of one"
		}
		return fmt.Sprintf("a list of %d", len(v))
	case map[string]any:
		return "a table"
	default:
		return fmt.Sprint(v)
	}
}
