package main

import (
	"errors"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/inverter/si"
	"sextant/render"
	"sextant/render/film"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// still is what the command of that name was asked for.
type still struct {
	at          string
	scene       int
	output      string
	format      picture.Format
	look        picture.Look
	theme       render.Theme
	numbering   inverter.Numbering
	lanes       []string
	labels      bool
	caption     bool
	transparent bool
}

func stillCommand() *cobra.Command {
	var s still
	cmd := &cobra.Command{
		Use:   "still FILE -o PICTURE",
		Short: "Draw one picture of a scenario or a lesson: PNG, SVG or PDF",
		Long: `Draw one picture of a scenario at a time: the bridge with its conducting paths,
the machine with its field and rotor, the waveforms that led there, what it
means in words, and where the power goes. Of a lesson, draw a scene with the
words that are said of it. No display is needed.

FILE is a path, the name of a built-in scenario or lesson, or - for standard
input. The picture's name says its kind: .png, .svg or .pdf; text in the last
two stays text.

The time is a time, like 12ms, or a moment with a name:
` + picture.Moments + `.
In a lesson it is the drive's time since the scene began, or "change n" of it.`,
		Example: `  sextant still trainer-six-step --at 12ms -o step.png
  sextant still hauler-phase-lost --at "fault +2ms" -o lost.png
  sextant still hauler-pwm --at "diode U+" -o hauler.svg --theme print
  sextant still trainer-six-step --focus wheel --transparent -o wheel.png
  sextant still six-steps --scene 1 --at "change 2" -o third.png
  sextant still hauler-climb -o hall.png --size 3840x2160 --theme projector`,
		Args:              oneSubject,
		ValidArgsFunction: completeSubject,
		RunE:              func(c *cobra.Command, args []string) error { return s.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&s.at, "at", "", "`moment` of the picture; default is the end of the scenario's settling, or soon after where all windings then lie on one rail")
	f.IntVar(&s.scene, "scene", 1, "draw this scene of a lesson, by its `number`")
	f.StringVarP(&s.output, "output", "o", "", "the picture's `file`, ending in .png, .svg or .pdf")
	f.TextVar(&s.look.Size, "size", picture.Size{Width: 1920, Height: 1080}, "`size` in pixels")
	f.TextVar(&s.theme, "theme", render.Dark, "`colours`: dark, light, projector or print")
	f.TextVar(&s.look.Focus, "focus", render.Everything, "`part` to draw large: all, bridge, wheel, bridge-and-wheel or tape")
	lanesFlag(cmd, &s.lanes)
	f.Float64Var(&s.look.Text, "text", 1, "`factor` by which text is larger, 0.5 to 1.5")
	f.BoolVar(&s.labels, "labels", true, "write names and figures; --labels=false leaves them out")
	f.BoolVar(&s.caption, "caption", true, "write the title and what it means; of a lesson, its words; --caption=false leaves them out")
	f.BoolVar(&s.transparent, "transparent", false, "leave out the ground, to lay the picture over another")
	numberingFlag(cmd, &s.numbering)
	complete(cmd, "focus", "all", "bridge", "wheel", "bridge-and-wheel", "tape")
	complete(cmd, "theme", "dark", "light", "projector", "print")
	complete(cmd, "at", "start", "settled", "end", "event", "commutation", "fault", "trip", "U+ on", "U+ off", "diode U+", "zero U")
	return cmd
}

func (s *still) do(c *cobra.Command, name string) (err error) {
	switch {
	case s.output == "":
		return usage("still draws to a file: give -o with a name that ends in .png, .svg or .pdf")
	case !(s.look.Text >= 0.5 && s.look.Text <= 1.5):
		return usage("--text: %g is out of range; give 0.5 to 1.5", s.look.Text)
	}
	if s.format, err = picture.FormatOf(s.output); err != nil {
		return usage("--output: %w", err)
	}
	if s.look.Lanes, err = lanesOf(s.lanes); err != nil {
		return err
	}
	s.look.Mute, s.look.Silent = !s.labels, !s.caption || !s.labels
	x, err := openSubject(c, name)
	if err != nil {
		return err
	}
	if x.lesson != nil {
		return s.ofLesson(c, &x)
	}
	if c.Flags().Changed("scene") {
		return usage("--scene: a scenario has none; give a lesson, or leave it out")
	}
	return s.ofScenario(&x)
}

func (s *still) ofScenario(x *subject) error {
	var at picture.Moment
	if s.at != "" {
		if err := at.UnmarshalText([]byte(s.at)); err != nil {
			return usage("--at: %w", err)
		}
	}
	t, err := at.Time(&x.scenario)
	if err != nil {
		return usage("--at: %w", err)
	}
	draw := picture.At
	if s.at == "" {
		draw = picture.Telling
	}
	v, err := draw(x.scenario, t)
	if errors.Is(err, picture.ErrTooLate) {
		return usage("--at: %w", err)
	}
	if err != nil {
		return err
	}
	v.Theme, v.Numbering, v.Bare = s.theme, s.numbering, s.transparent
	return writeAside(s.output, func(w io.Writer) error { return s.look.Write(w, s.format, v) })
}

func (s *still) ofLesson(c *cobra.Command, x *subject) error {
	if err := x.refuse(c, "focus"); err != nil {
		return err
	}
	if err := x.only(max(s.scene, 1)); err != nil {
		return err
	}
	scene := &x.lesson.Scenes[0]
	t, err := s.within(scene)
	if err != nil {
		return err
	}
	if s.at == "" {
		t = tellingIn(scene)
	}
	p := film.Still{Scene: scene, At: t, Look: s.look, Theme: s.theme, Numbering: s.numbering, Bare: s.transparent}
	draw, err := p.Draw()
	if err != nil {
		return usage("--at: %w", err)
	}
	return writeAside(s.output, func(w io.Writer) error {
		return picture.Paint(w, s.format, s.look.Size, scene.Title, func(c vg.Canvas, _ vg.Rectangle) { draw(c) })
	})
}

// tellingIn returns the time of a telling picture of a scene before its first change, in s of the drive since the scene began.
func tellingIn(scene *lesson.Scene) float64 {
	first := scene.Moments[0].Scenario
	v, err := picture.Telling(first, first.Run.Settle)
	if err != nil {
		return 0
	}
	t := v.Now.Time - first.Run.Settle
	if len(scene.Moments) > 1 && t >= scene.Moments[1].After || t > scene.Pace*scene.Duration {
		return 0
	}
	return t
}

// within returns the time that was asked for in a lesson's scene, in s of the drive since it began.
func (s *still) within(scene *lesson.Scene) (float64, error) {
	if s.at == "" {
		return 0, nil
	}
	if number, ok := strings.CutPrefix(s.at, "change"); ok {
		n := 1
		if number = strings.TrimSpace(number); number != "" {
			n, _ = strconv.Atoi(number)
		}
		if n < 1 || n >= len(scene.Moments) {
			return 0, usage("--at: there is no %q; changes of this scene: %d", s.at, len(scene.Moments)-1)
		}
		return scene.Moments[n].After, nil
	}
	t, err := si.Time.Parse(s.at)
	if err != nil {
		return 0, usage("--at: %w, or a change of the scene, like \"change 1\"", err)
	}
	return t, nil
}

func lanesFlag(cmd *cobra.Command, lanes *[]string) {
	cmd.Flags().StringSliceVar(lanes, "lanes", nil, "`lanes` of the tape in their order, like gates,currents; default: the most telling")
	var names []string
	for _, k := range render.Lanes {
		names = append(names, k.String())
	}
	complete(cmd, "lanes", names...)
}

// lanesOf reads names of lanes.
func lanesOf(names []string) (all []render.Lane, err error) {
	for _, name := range names {
		k, err := render.ParseLane(strings.TrimSpace(name))
		if err != nil {
			return nil, usage("--lanes: %w", err)
		}
		all = append(all, k)
	}
	return all, nil
}
