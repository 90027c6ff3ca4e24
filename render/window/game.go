package window

import (
	"math"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/window/show"
)

// Options says how a window opens.
type Options struct {
	Width, Height int         // of the window, in pixels as the desktop counts them; 0 for a size that fits
	Watch         func(State) // is told the state after each change of it; may be nil
	Keep          func(Look)  // is told how the window looks once that has changed, and at the end; may be nil
}

// A Look is how a window looks to its user. Width and Height are 0 where a window fills its screen.
type Look struct {
	show.Taste
	Width, Height int
}

// A State is what a show is at, for programs that watch it.
type State struct {
	Time      float64  `json:"time_s"`
	Playing   bool     `json:"playing"`
	TimeScale float64  `json:"time_scale"`
	Scenario  string   `json:"scenario"`
	Pattern   string   `json:"pattern"`
	Theme     string   `json:"theme"`
	Numbering string   `json:"numbering"`
	Focus     string   `json:"focus"`
	Faults    []string `json:"faults"` // in words
	Rotor     float64  `json:"rotor_deg"`
	Message   string   `json:"message"`
	Sentence  string   `json:"sentence"`
	Lesson    string   `json:"lesson"`   // where one is played
	Scene     int      `json:"scene"`    // from 1
	Question  string   `json:"question"` // that is put
	Frames    int      `json:"frames"`

	Gates      string       `json:"gates"`
	Currents   inverter.ABC `json:"currents_a"`
	Torque     float64      `json:"torque_nm"`
	Speed      float64      `json:"speed_rpm"`
	Supply     float64      `json:"supply_v"`
	Frequency  float64      `json:"frequency_hz"` // commanded; 0 where the gating follows the machine
	Modulation float64      `json:"modulation"`
	Past       float64      `json:"past_s"` // how far back the picture looks; 0 in the present
	Span       float64      `json:"span_s"` // of the tape
	Lanes      []string     `json:"lanes"`  // of the tape, from the top
	Cursors    []float64    `json:"cursors_s"`
	Panel      string       `json:"panel"`  // what is open over the picture
	Undo       int          `json:"undo"`   // changes that can be taken back
	Redo       int          `json:"redo"`   // and made again
	Hidden     bool         `json:"hidden"` // the scene keeps its fault to itself
	Answers    int          `json:"answers"`
	Right      int          `json:"right"` // of those

	Words string `json:"words"`      // that lie over the picture to be read
	Part  string `json:"part"`       // of the picture that is explained
	Reads string `json:"part_reads"` // what it is at
}

// Run shows s in a window, or in the page in a browser, until the user closes it.
func Run(s *show.Show, o Options) error {
	g := &game{show: s, watch: o.Watch, keep: keeper{tell: o.Keep, last: Look{Taste: s.Taste()}}}
	ebiten.SetWindowTitle("Sextant")
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetWindowSize(windowSize(o.Width, o.Height))
	ebiten.SetRunnableOnUnfocused(true)
	// A picture that does not change is not drawn again, and time is taken from the clock.
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetTPS(ebiten.SyncWithFPS)
	err := ebiten.RunGameWithOptions(g, &ebiten.RunGameOptions{X11ClassName: "Sextant", X11InstanceName: "sextant"})
	g.keep.flush()
	return err
}

// windowSize returns the size asked for, or else four fifths of the screen in 16:9.
func windowSize(w, h int) (int, int) {
	if w > 0 && h > 0 {
		return w, h
	}
	sw, sh := ebiten.Monitor().Size()
	if sw <= 0 || sh <= 0 {
		return 1280, 720
	}
	w = min(sw*4/5, sh*4/5*16/9)
	return w, w * 9 / 16
}

// A game is what Ebitengine runs: it turns input into wishes and the clock into time, and draws.
type game struct {
	show  *show.Show
	watch func(State)
	keep  keeper
	input input

	last          time.Time // of the last update
	drawn         time.Time // when something was drawn last
	width, height float64   // of the window, in its pixels
	ratio         float64   // pixels in one of the desktop's
	frames        int

	canvas Canvas
	frame  show.Frame
	layout render.Layout
	view   render.View   // drawn last
	still  *ebiten.Image // what does not move
	kept   stillKey      // what still was drawn for
}

// A stillKey is all that the picture of what does not move depends on.
type stillKey struct {
	width, height float64
	stage         vg.Rectangle
	text          float64
	theme         render.Theme
	focus         render.Focus
	numbering     inverter.Numbering
	edition       int
	lanes         string
	cursors       int
	emphasis      render.Part
}

// LayoutF gives the picture every pixel of the screen.
func (g *game) LayoutF(width, height float64) (w, h float64) {
	ratio := ebiten.Monitor().DeviceScaleFactor()
	w, h = max(width*ratio, 1), max(height*ratio, 1)
	if w != g.width || h != g.height || ratio != g.ratio {
		g.width, g.height, g.ratio = w, h, ratio
		g.kept = stillKey{}
	}
	return w, h
}

// Layout is not called where there is LayoutF.
func (g *game) Layout(width, height int) (w, h int) { return width, height }

// Update lets the time since the last update pass and grants the wishes made in it.
func (g *game) Update() error {
	g.rest(time.Now())
	now := time.Now()
	wall := now.Sub(g.last)
	if g.last.IsZero() {
		wall = 0
	}
	g.last = now
	g.input.apply(g)
	g.show.Tick(wall.Seconds())
	g.keep.look(g.look(), now)
	return nil
}

// Draw draws the show if it has changed.
func (g *game) Draw(screen *ebiten.Image) {
	if !g.show.Changed() && g.kept != (stillKey{}) {
		return
	}
	g.frame = g.show.Arrange(g.width, g.height, g.ratio)
	v := g.show.View()
	key := stillKey{g.width, g.height, g.frame.Stage, g.show.StageText(&g.frame), v.Theme, g.show.LooksAt(&g.frame), v.Numbering, g.show.Edition(), g.show.Taste().Lanes, len(v.Cursors), v.Emphasis}
	if key != g.kept {
		g.drawStill(&v, key)
	}
	screen.DrawImage(g.still, &ebiten.DrawImageOptions{Blend: ebiten.BlendCopy})
	g.canvas.On(screen)
	render.DrawMoving(&g.canvas, g.layout, &v)
	g.show.DrawExplanation(&g.canvas, &g.frame, &g.layout, &v)
	g.show.Draw(&g.canvas, &g.frame, g.input.pointed)
	g.canvas.Flush()
	g.view, g.drawn = v, time.Now()
	g.frames++
	if g.watch != nil {
		g.watch(g.state(&v))
	}
}

// drawStill draws what does not move, once for many frames.
func (g *game) drawStill(v *render.View, key stillKey) {
	w, h := int(g.width), int(g.height)
	if g.still == nil || g.still.Bounds().Dx() != w || g.still.Bounds().Dy() != h {
		if g.still != nil {
			g.still.Deallocate()
		}
		g.still = ebiten.NewImage(w, h)
	}
	g.kept = key
	g.layout = render.Arrange(key.focus, g.frame.Stage, key.text, g.show.Lanes()...).WithCursors(key.cursors)
	g.show.Lay(&g.layout)
	g.still.Fill(v.Theme.Ground())
	g.canvas.On(g.still)
	render.DrawStill(&g.canvas, g.layout, v)
	g.canvas.Flush()
}

func (g *game) state(v *render.View) State {
	s := State{
		Time: v.Now.Time, Playing: v.Playing, TimeScale: v.TimeScale, Scenario: g.show.Scenario(),
		Pattern: v.Scenario.Gating.Kind.String(), Theme: v.Theme.String(), Numbering: v.Numbering.String(),
		Focus: g.show.Focus().String(), Faults: g.show.FaultsNow(), Rotor: v.Now.Rotor * 180 / math.Pi,
		Message: g.show.Message(), Frames: g.frames, Sentence: render.Sentence(&v.Now, v.Scenario),
	}
	s.Lesson, s.Scene, s.Question = g.show.Lesson()
	s.Gates, s.Currents, s.Torque, s.Speed = v.Now.Gates.String(), v.Now.Current, v.Now.Torque, v.Now.RPM()
	s.Supply, s.Modulation = v.Scenario.Supply.Voltage, v.Scenario.Gating.Modulation
	if v.Scenario.Gating.Follow == drive.Clock {
		s.Frequency = v.Scenario.Gating.Frequency
	}
	s.Past, s.Span, s.Cursors, s.Panel = g.show.Past(), v.Span, v.Cursors, g.show.Panel()
	for _, k := range g.layout.Shown() {
		s.Lanes = append(s.Lanes, k.String())
	}
	s.Undo, s.Redo = g.show.Steps()
	s.Hidden = g.show.Hiding()
	s.Answers, s.Right = g.show.Score()
	s.Words = g.show.Words()
	s.Part, s.Reads = g.show.Explained(v)
	return s
}
