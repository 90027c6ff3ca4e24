package capture

import (
	"math"
	"strconv"
	"strings"
)

const day = 24 * 3600 // s

// clock reads a time of day, as loggers write it, in seconds from midnight: "10:15:00.25", with a date before
// it or a zone behind, or "15:00.25" for minutes and seconds alone.
func clock(cell string) (seconds float64, ok bool) {
	for _, word := range strings.FieldsFunc(cell, func(r rune) bool { return r == ' ' || r == 'T' }) {
		if strings.IndexByte(word, ':') < 0 {
			continue
		}
		word = strings.TrimRight(word, "Z")
		if i := strings.IndexAny(word, "+-"); i > 0 {
			word = word[:i]
		}
		parts := strings.Split(word, ":")
		if len(parts) > 3 {
			return 0, false
		}
		for i, part := range parts {
			last := i == len(parts)-1
			if last {
				part = strings.Replace(part, ",", ".", 1)
			}
			x, err := strconv.ParseFloat(part, 64)
			if err != nil || x < 0 || x > 1e6 || strings.ContainsAny(part, "eExXnN") || !last && strings.IndexByte(part, '.') >= 0 || i > 0 && x >= 61 {
				return 0, false
			}
			seconds = 60*seconds + x
		}
		return seconds, true
	}
	return 0, false
}

// onward moves a time of day behind midnight to behind the time before it.
func onward(t, before float64) float64 {
	if before-t > day/2 {
		t += day * math.Round((before-t)/day)
	}
	return t
}
