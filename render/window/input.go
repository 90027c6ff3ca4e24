package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"
	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/window/show"
)

// An input is what hand and keys are at.
type input struct {
	pointed show.Wish // button under the pointer
	down    bool      // the pointer presses
	touched bool      // it is a finger
	at      vg.Point  // where the pointer is, in the canvas's points
	drag    bool      // the tape is in hand
	turn    bool      // the rotor is in hand
	rotor   float64   // where the hand was last on its way round the rotor, rad
	held    show.Wish // button kept down
	ticks   int       // updates for which it has been
	runes   []rune
	touches []ebiten.TouchID
}

// A key or button held down makes its wish again after repeatDelay updates, then every repeatEvery.
const repeatDelay, repeatEvery = 24, 5

func repeats(ticks int) bool {
	return ticks >= repeatDelay && (ticks-repeatDelay)%repeatEvery == 0
}

// apply grants what was wished for since the last update.
func (in *input) apply(g *game) {
	in.typed(g)
	in.pointer(g)
	if files := ebiten.DroppedFiles(); files != nil {
		g.show.Drop(files)
	}
}

func (in *input) typed(g *game) {
	for _, w := range in.struck() {
		g.grant(w)
	}
	// A key that is down but was not pressed just now repeats itself. (One that was pressed and let go since
	// the last update is not seen as a key at all, but what it typed is.)
	held := len(inpututil.AppendJustPressedKeys(nil)) == 0 && len(inpututil.AppendPressedKeys(nil)) > 0
	in.runes = ebiten.AppendInputChars(in.runes[:0])
	if ebiten.IsKeyPressed(ebiten.KeyControl) && !ebiten.IsKeyPressed(ebiten.KeyAlt) {
		return // what a letter does with it is not what it types; with Alt, it is how some keyboards type
	}
	for _, r := range in.runes {
		if w := show.Typed(r); w.Repeats() || !held {
			g.grant(w)
		}
	}
}

func (g *game) grant(w show.Wish) {
	switch w {
	case show.None:
	case show.Fullscreen:
		ebiten.SetFullscreen(!ebiten.IsFullscreen())
	case show.Dismiss:
		if ebiten.IsFullscreen() && !g.show.Covered() {
			ebiten.SetFullscreen(false)
		}
		g.show.Do(w)
	default:
		g.show.Do(w)
	}
}

// pointer follows mouse and finger, whichever is in use.
func (in *input) pointer(g *game) {
	x, y := ebiten.CursorPosition()
	down := ebiten.IsMouseButtonPressed(ebiten.MouseButtonLeft)
	in.touches = ebiten.AppendTouchIDs(in.touches[:0])
	switch {
	case len(in.touches) > 0:
		in.touched = true
		x, y = ebiten.TouchPosition(in.touches[0])
		down = true
	case in.touched: // a finger has just left, and the mouse is where it was long ago
		in.touched = false
		x, y = int(in.at.X), int(vg.Length(g.height)-in.at.Y)
		down = false
	}
	was := in.at
	in.at = vg.Point{X: vg.Length(x), Y: vg.Length(g.height) - vg.Length(y)}
	pressed, at := in.pressed(down)
	if pressed && at != nil {
		in.at = vg.Point{X: vg.Length(at[0] * g.ratio), Y: vg.Length(g.height - at[1]*g.ratio)}
	}
	in.down = down

	moved := in.at != was || pressed
	wish, over := g.frame.At(in.at)
	if wish != in.pointed && !in.touched {
		in.pointed = wish
		g.show.Touch()
	}
	part := render.Part{}
	if !over && g.frame.Stage.Size().X > 0 {
		part = g.layout.At(in.at)
	}
	if moved && !in.turn { // a pointer that rests leaves the keys to point
		g.show.Point(part)
	}
	if !down {
		in.drag, in.turn, in.held = false, false, show.None
	}
	switch {
	case pressed && over:
		in.held, in.ticks = wish, 0
		g.grant(wish)
	case pressed && isTape(part):
		in.drag = true
	case pressed:
		in.turn, in.rotor = part.Kind == render.RotorPart, g.layout.Bearing(in.at)
		g.show.Press(part)
	case in.turn && moved:
		to := g.layout.Bearing(in.at)
		g.show.TurnRotor(math.Remainder(to-in.rotor, 2*math.Pi))
		in.rotor = to
	case in.drag && in.at.X != was.X:
		g.show.Drag(g.layout.Seconds(in.at.X-was.X, g.show.Span()))
	case in.held.Repeats() && in.held == wish:
		if in.ticks++; repeats(in.ticks) {
			g.grant(wish)
		}
	}
	if _, turned := ebiten.Wheel(); turned != 0 && isTape(part) {
		const perNotch = 1.15
		if turned > 0 {
			g.show.Zoom(1 / perNotch)
		} else {
			g.show.Zoom(perNotch)
		}
	}
	shape := ebiten.CursorShapeDefault
	switch {
	case wish != show.None, show.Pressable(part):
		shape = ebiten.CursorShapePointer
	case in.turn, part.Kind == render.RotorPart:
		shape = ebiten.CursorShapeMove
	case isTape(part):
		shape = ebiten.CursorShapeEWResize
	}
	ebiten.SetCursorShape(shape)
}

func isTape(p render.Part) bool { return p.Kind == render.TapePart || p.Kind == render.LanePart }
