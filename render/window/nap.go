//go:build !js

package window

import "time"

const (
	// restsAfter is how long nothing is drawn before the window rests between two looks at keys and mouse.
	restsAfter = time.Second
	// nap is that rest: long enough to leave the processor alone, shorter than a tap on a key.
	nap = 25 * time.Millisecond
)

// rest rests where nothing has been drawn for a while.
func (g *game) rest(now time.Time) {
	if !g.drawn.IsZero() && now.Sub(g.drawn) > restsAfter {
		time.Sleep(nap)
	}
}
