package picture

import (
	"fmt"
	"strconv"
	"strings"
)

// A Size is a picture's in pixels of a 96th of an inch.
type Size struct{ Width, Height int }

// The least and the most pixels that a side may have.
const (
	LeastSide = 200
	MostSide  = 8000
)

// String writes the size as flags have it, like "1920x1080".
func (s Size) String() string { return fmt.Sprintf("%dx%d", s.Width, s.Height) }

// MarshalText returns what [Size.String] does.
func (s Size) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a size like "1920x1080" and refuses sides outside [LeastSide] to [MostSide].
func (s *Size) UnmarshalText(text []byte) error {
	w, h, ok := strings.Cut(strings.ToLower(string(text)), "x")
	width, err1 := strconv.Atoi(strings.TrimSpace(w))
	height, err2 := strconv.Atoi(strings.TrimSpace(h))
	if !ok || err1 != nil || err2 != nil {
		return fmt.Errorf("%q is not a size; give width and height in pixels, like 1920x1080", text)
	}
	if min(width, height) < LeastSide || max(width, height) > MostSide {
		return fmt.Errorf("%s: sides run from %d to %d pixels", text, LeastSide, MostSide)
	}
	*s = Size{width, height}
	return nil
}
