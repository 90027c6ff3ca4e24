package window

import (
	"image"
	"math"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/window/show"
)

// An input is what hand and keys are at.
type input struct {
	pointed show.Wish // button under the pointer
	down    bool      // the pointer presses
	touched bool      // it is a finger, or was one last
	mouse   image.Point
	at      vg.Point // where the pointer is, in the canvas's points
	drag    bool     // the tape is in hand
	turn    bool     // the rotor is in hand
	rotor   float64  // where the hand was last on its way round the rotor, rad
	grabbed bool     // a lane is in hand,
	lane    render.Lane
	measure int // or a cursor, counted from 1
	tap     tap
	pinch   float64   // how far two fingers on the tape are apart, in pixels
	held    show.Wish // button kept down
	ticks   int       // updates for which it has been
	touches []ebiten.TouchID
}

// A tap is a finger on a part of the stage that will be pressed if the finger leaves soon: one that rests has the
// part explained instead.
type tap struct {
	part    render.Part
	at      vg.Point
	since   time.Time
	updates int // seen since
}

const (
	tapTakes = 450 * time.Millisecond // at most
	tapSeen  = 1                      // updates later no tap is too long, however slow the machine
	tapMoves = 12                     // by how much a finger may slip, in pixels as a desktop counts them
)

// A key or button held down makes its wish again after repeatDelay updates, then every repeatEvery.
const repeatDelay, repeatEvery = 24, 5

func repeats(ticks int) bool {
	return ticks >= repeatDelay && (ticks-repeatDelay)%repeatEvery == 0
}

// apply grants what was wished for since the last update.
func (in *input) apply(g *game) {
	if !in.write(g.show) {
		for _, w := range in.struck() {
			g.grant(w)
		}
	}
	in.pointer(g)
	if files := ebiten.DroppedFiles(); files != nil {
		g.show.Drop(files)
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
	mouse := image.Pt(ebiten.CursorPosition())
	down := ebiten.IsMouseButtonPressed(ebiten.MouseButtonLeft)
	was := in.at
	in.touches = ebiten.AppendTouchIDs(in.touches[:0])
	switch { // where a finger has left, the pointer stays until the mouse moves
	case len(in.touches) > 0:
		in.touched, down = true, true
		in.at = g.point(ebiten.TouchPosition(in.touches[0]))
	case mouse != in.mouse || down:
		in.touched = false
		in.at = g.point(mouse.X, mouse.Y)
	}
	in.mouse = mouse
	pressed, at := in.pressed(down)
	if pressed && at != nil {
		in.at = vg.Point{X: vg.Length(at[0] * g.ratio), Y: vg.Length(g.height - at[1]*g.ratio)}
	}
	released := in.down && !down
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
	switch {
	case in.drag, in.measure > 0, in.grabbed: // nothing is explained over what the hand moves
		g.show.Point(render.Part{})
	case moved && !in.turn: // a pointer that rests leaves the keys to point
		g.show.Point(part)
	}
	in.finger(g, down, released)
	if !down {
		in.drag, in.turn, in.grabbed, in.measure, in.held = false, false, false, 0, show.None
	}
	switch {
	case in.pinch > 0:
	case pressed && over:
		in.held, in.ticks = wish, 0
		g.grant(wish)
	case pressed && isTape(part):
		in.take(g, part)
	case pressed && in.touched && down && part.Kind != render.RotorPart:
		in.tap = tap{part: part, at: in.at, since: time.Now()}
	case pressed:
		in.turn, in.rotor = part.Kind == render.RotorPart, g.layout.Bearing(in.at)
		g.show.Press(part)
	case in.turn && moved:
		to := g.layout.Bearing(in.at)
		g.show.TurnRotor(math.Remainder(to-in.rotor, 2*math.Pi))
		in.rotor = to
	case in.measure > 0 && moved:
		g.show.MoveCursor(in.measure-1, g.layout.TimeAt(in.at.X, &g.view))
	case in.grabbed && moved && part.Kind == render.LanePart:
		in.carry(g, part.Lane)
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

// point returns where a pixel of the window is on the canvas.
func (g *game) point(x, y int) vg.Point {
	return vg.Point{X: vg.Length(x), Y: vg.Length(g.height) - vg.Length(y)}
}

// take takes hold of what a press on the tape meets: a cursor, a lane by its name, or the tape itself.
func (in *input) take(g *game, part render.Part) {
	k, ok := g.layout.CursorAt(in.at, &g.view)
	switch {
	case ok:
		in.measure = k + 1
	case part.Kind == render.LanePart && in.at.X < g.layout.Trace.Min.X:
		in.grabbed, in.lane = true, part.Lane
	default:
		in.drag = true
	}
}

// carry moves the lane in hand to where another is, once the hand is past the middle of that.
func (in *input) carry(g *game, over render.Lane) {
	r, own := g.layout.Lanes[over], g.layout.Lanes[in.lane]
	middle, down := (r.Min.Y+r.Max.Y)/2, r.Max.Y <= own.Min.Y
	if over != in.lane && (in.at.Y < middle) == down {
		g.show.MoveLane(in.lane, over)
	}
}

// finger follows a tap to its end, and two fingers that stretch the tape.
func (in *input) finger(g *game, down, released bool) {
	in.tap.updates++
	if released && in.tap.part != (render.Part{}) && (time.Since(in.tap.since) < tapTakes || in.tap.updates <= tapSeen) {
		g.show.Press(in.tap.part)
	}
	slip := in.at.Sub(in.tap.at)
	if !down || math.Hypot(float64(slip.X), float64(slip.Y)) > tapMoves*g.ratio {
		in.tap = tap{}
	}
	apart := 0.0
	if len(in.touches) >= 2 {
		a, b := g.point(ebiten.TouchPosition(in.touches[0])), g.point(ebiten.TouchPosition(in.touches[1]))
		if isTape(g.layout.At(a.Add(b).Scale(0.5))) {
			apart = max(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), 1)
		}
	}
	if apart > 0 && in.pinch > 0 {
		g.show.Zoom(in.pinch / apart)
	}
	in.pinch = apart
}

func isTape(p render.Part) bool { return p.Kind == render.TapePart || p.Kind == render.LanePart }
