package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"sextant/inverter"
	"sextant/inverter/si"
	"sextant/render"
	"sextant/render/picture"
)

// still is what the command of that name was asked for.
type still struct {
	at        float64 // s
	output    string
	size      picture.Size
	theme     render.Theme
	focus     render.Focus
	numbering inverter.Numbering
	text      float64
}

func stillCommand() *cobra.Command {
	var s still
	cmd := &cobra.Command{
		Use:   "still FILE -o PICTURE",
		Short: "Draw one picture of a scenario: PNG, SVG or PDF",
		Long: `Draw one picture of a scenario at a time: the bridge with its conducting paths,
the machine with its field and rotor, the waveforms that led there, what it
means in words, and where the power goes. No display is needed.

FILE is a path, the name of a built-in scenario, or - for standard input. The
picture's name says its kind: .png, .svg or .pdf; text in the last two stays
text.`,
		Example: `  sextant still trainer-six-step --at 12ms -o step.png
  sextant still hauler-pwm --at 0.1s -o hauler.svg --theme print
  sextant still hauler-climb -o hall.png --size 3840x2160 --theme projector`,
		Args:              oneFile,
		ValidArgsFunction: completeScenario,
		RunE:              func(c *cobra.Command, args []string) error { return s.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.Var(si.Time.Into(&s.at), "at", "`time` of the picture; default is the end of the scenario's settling")
	f.Lookup("at").DefValue = "" // not 0
	f.StringVarP(&s.output, "output", "o", "", "the picture's `file`, ending in .png, .svg or .pdf")
	f.TextVar(&s.size, "size", picture.Size{Width: 1920, Height: 1080}, "`size` in pixels")
	f.TextVar(&s.theme, "theme", render.Dark, "`colours`: dark, light, projector or print")
	f.TextVar(&s.focus, "focus", render.Everything, "`part` to draw large: all, bridge, wheel,\nbridge-and-wheel or tape")
	f.Float64Var(&s.text, "text", 1, "`factor` by which text is larger, 0.5 to 1.5")
	numberingFlag(cmd, &s.numbering)
	complete(cmd, "focus", "all", "bridge", "wheel", "bridge-and-wheel", "tape")
	complete(cmd, "theme", "dark", "light", "projector", "print")
	return cmd
}

func (s *still) do(c *cobra.Command, file string) error {
	switch {
	case s.output == "":
		return usage("still draws to a file: give -o with a name that ends in .png, .svg or .pdf")
	case !(s.text >= 0.5 && s.text <= 1.5):
		return usage("--text: %g is out of range; give 0.5 to 1.5", s.text)
	}
	format, err := picture.FormatOf(s.output)
	if err != nil {
		return usage("--output: %w", err)
	}
	scenario, err := openScenario(c, file)
	if err != nil {
		return err
	}
	at := s.at
	if !c.Flags().Changed("at") {
		at = scenario.Run.Settle
	}
	v, err := picture.At(scenario, at)
	if errors.Is(err, picture.ErrTooLate) {
		return usage("--at: %w", err)
	}
	if err != nil {
		return err
	}
	v.Theme, v.Numbering = s.theme, s.numbering
	return writeAside(s.output, func(w io.Writer) error { return picture.Write(w, format, s.size, s.focus, s.text, v) })
}
