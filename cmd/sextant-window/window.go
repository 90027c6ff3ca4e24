package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sextant/cmd/sextant-window/kept"
	_ "sextant/cmd/sextant-window/needdisplay" // before all else
	"sextant/inverter/si"
	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/window"
	"sextant/render/window/show"
)

// first is the scenario that is shown where none is asked for.
const first = "hauler-pwm"

// A failure is the window's, not of what was asked for.
type failure struct{ error }

func (f failure) Error() string { return "sextant-window: " + f.error.Error() }
func (f failure) Unwrap() error { return f.error }

// opening is how the window was asked to open.
type opening struct {
	theme  render.Theme
	focus  render.Focus
	size   size
	paused bool
	at     float64 // s; not a number where none is given

	lesson, results string // files; may be empty
	scene           int    // of the lesson, from 1; 0 where none is given
}

func windowCommand() *cobra.Command {
	o := opening{at: math.NaN()}
	cmd := &cobra.Command{
		Use:   "sextant-window [SCENARIO]",
		Short: "Show an inverter and its machine moving",
		Long: `Show an inverter's switches, its machine, and their voltages and currents, moving.
SCENARIO is the name of a built-in scenario or a file. Press h in the window for the keys.`,
		Args:          cobra.MaximumNArgs(1),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.show(args)
			if err != nil {
				return err
			}
			o.recall(s, cmd.Flags().Changed)
			files := kept.NewFiles()
			s.SetFiles(files)
			if err := remember(files, args); err != nil {
				s.Refuse(err)
			}
			if o.lesson != "" {
				l, err := lesson.Open(o.lesson)
				if err != nil {
					return err
				}
				s.Play(l)
			}
			if o.scene != 0 {
				if err := s.GoToScene(o.scene); err != nil {
					return fmt.Errorf("--scene: %w", err)
				}
			}
			share(s)
			err = window.Run(s, window.Options{Width: o.size.width, Height: o.size.height, Watch: watch(), Keep: keep(s)})
			if err == nil && o.results != "" {
				err = writeResults(o.results, s.Results())
			}
			if err != nil {
				return failure{err}
			}
			return nil
		},
	}
	f := cmd.Flags()
	f.TextVar(&o.theme, "theme", render.Dark, "`colours`: dark, light, projector or print; default: as last time")
	f.TextVar(&o.focus, "focus", render.Everything, "`part` to look at: all, bridge, wheel, bridge-and-wheel or tape")
	f.TextVar(&o.size, "size", size{}, "of the window, like `1280x720`")
	f.BoolVar(&o.paused, "paused", false, "start with time standing still")
	f.Var(si.Time.Into(&o.at), "at", "start at this `time`, like 12ms; default: when settled")
	f.StringVar(&o.lesson, "lesson", "", "play this lesson, a `file` or a built-in name")
	f.IntVar(&o.scene, "scene", 0, "begin the lesson at the scene of this `number`, from 1")
	f.Lookup("scene").DefValue = "" // the first
	f.StringVar(&o.results, "results", "", "write what was answered in lessons to this CSV `file` when the window closes")
	f.Lookup("at").DefValue = "" // not a time
	f.Lookup("theme").DefValue = ""
	return cmd
}

// show returns the show of the scenario named, among all built-in ones.
func (o *opening) show(args []string) (*show.Show, error) {
	var choices []show.Choice
	for _, name := range scenario.Names() {
		sc, err := scenario.Open(name)
		if err != nil {
			return nil, err
		}
		choices = append(choices, show.Choice{Name: name, Scenario: sc})
	}
	named := func(name string) int {
		return slices.IndexFunc(choices, func(c show.Choice) bool { return c.Name == name })
	}
	start := max(named(first), 0)
	if len(args) > 0 {
		if start = named(args[0]); start < 0 {
			sc, err := scenario.Open(args[0])
			if err != nil {
				return nil, err
			}
			start = len(choices)
			choices = append(choices, show.Choice{Name: args[0], Scenario: sc})
		}
	}
	if name, text := handed(); text != nil {
		sc, err := scenario.Load(name, text)
		if err != nil {
			return nil, err
		}
		start = len(choices)
		choices = append(choices, show.Choice{Name: name, Scenario: sc})
	}
	s, err := show.New(choices, start, !o.paused)
	if err != nil {
		return nil, err
	}
	if !math.IsNaN(o.at) {
		if err := s.SkipTo(o.at); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// remember keeps the scenario's file, if it is one, among the recent ones.
func remember(files *kept.Files, args []string) error {
	if len(args) == 0 || !strings.ContainsAny(args[0], `./\`) {
		return nil
	}
	return files.Remember(args[0])
}

// recall makes s look as it did last time, but for what flags say.
func (o *opening) recall(s *show.Show, given func(string) bool) {
	last, err := kept.Read()
	if err != nil {
		s.Refuse(err)
	}
	s.SetTaste(last.Taste)
	if given("theme") {
		s.SetTheme(o.theme)
	}
	s.SetFocus(o.focus)
	if within := func(x int) bool { return x >= leastSize && x <= mostSize }; o.size == (size{}) && within(last.Width) && within(last.Height) {
		o.size = size{last.Width, last.Height}
	}
}

// keep returns what keeps the look for the next time. Where it cannot, s says so once.
func keep(s *show.Show) func(window.Look) {
	failed := false
	return func(l window.Look) {
		if failed {
			return
		}
		if err := kept.Write(kept.Look(l)); err != nil {
			failed = true
			s.Refuse(err)
		}
	}
}

// The least and the largest width or height of a window, in pixels.
const leastSize, mostSize = 200, 8192

// A size is a width and a height in pixels, written like 1280x720.
type size struct{ width, height int }

// MarshalText returns the size as it is written; the zero size, which leaves the choice, is empty.
func (s size) MarshalText() ([]byte, error) {
	if s == (size{}) {
		return nil, nil
	}
	return fmt.Appendf(nil, "%dx%d", s.width, s.height), nil
}

// UnmarshalText reads a size from 200x200 to 8192x8192.
func (s *size) UnmarshalText(text []byte) error {
	w, h, _ := strings.Cut(string(text), "x")
	width, err := strconv.Atoi(w)
	height, err2 := strconv.Atoi(h)
	if err != nil || err2 != nil || width < leastSize || height < leastSize || width > mostSize || height > mostSize {
		return fmt.Errorf("%q is not a size; give width and height from 200 to 8192, like 1280x720", text)
	}
	*s = size{width, height}
	return nil
}
