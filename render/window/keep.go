package window

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"
)

// A keeper tells of a look once it has stayed the same for a while: one that is dragged wider changes with
// every frame.
type keeper struct {
	tell    func(Look)
	last    Look // seen last
	since   time.Time
	pending bool
}

const keptAfter = time.Second

func (k *keeper) look(l Look, now time.Time) {
	if l != k.last {
		k.last, k.since, k.pending = l, now, true
	}
	if k.pending && now.Sub(k.since) >= keptAfter {
		k.flush()
	}
}

// flush tells of the last look, if that is still to be told.
func (k *keeper) flush() {
	if k.pending && k.tell != nil {
		k.tell(k.last)
	}
	k.pending = false
}

// look returns how the window looks now.
func (g *game) look() Look {
	l := Look{Taste: g.show.Taste()}
	if !ebiten.IsFullscreen() {
		l.Width, l.Height = ebiten.WindowSize()
	}
	return l
}
