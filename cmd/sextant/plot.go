package main

import (
	"io"

	"github.com/spf13/cobra"
	"gonum.org/v1/plot/vg"

	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/picture"
	"sextant/render/plots"
)

// plotting is where a command was asked to draw, and how.
type plotting struct {
	file   string
	format picture.Format
	size   picture.Size
	theme  render.Theme
	bare   bool
}

// flags adds the flags for a picture of what, such as waveforms.
func (p *plotting) flags(cmd *cobra.Command, what string, size picture.Size) {
	f := cmd.Flags()
	f.StringVar(&p.file, "plot", "", "draw "+what+" to this `file`, ending in .png, .svg or .pdf")
	f.TextVar(&p.size, "size", size, "`size` of --plot in pixels")
	f.TextVar(&p.theme, "theme", render.Print, "`colours` of --plot: dark, light, projector or print")
	f.BoolVar(&p.bare, "transparent", false, "leave out the ground of --plot, to lay it over another picture")
	complete(cmd, "theme", "dark", "light", "projector", "print")
}

// check refuses what does not go together, and a picture that there is no place for.
func (p *plotting) check(c *cobra.Command) (err error) {
	if p.file == "" {
		for _, name := range []string{"plot", "size", "theme", "transparent"} {
			if c.Flags().Changed(name) {
				return usage("--%s: goes with a picture; give --plot a file", name)
			}
		}
		return nil
	}
	if p.format, err = picture.FormatOf(p.file); err != nil {
		return usage("--plot: %w", err)
	}
	return writable(p.file)
}

// paint writes the picture, if one was asked for.
func (p *plotting) paint(title string, draw func(vg.Canvas, vg.Rectangle)) error {
	if p.file == "" {
		return nil
	}
	paint := draw
	if p.bare {
		paint = func(c vg.Canvas, area vg.Rectangle) { draw(picture.Bare(c, area), area) }
	}
	return writeAside(p.file, func(w io.Writer) error { return picture.Paint(w, p.format, p.size, title, paint) })
}

// waveformPlot is what the run command was asked to draw.
type waveformPlot struct {
	plotting
	record *plots.Recorder
}

// observers returns what must observe the run to be drawn.
func (p *waveformPlot) observers(s *drive.Scenario) []drive.Observer {
	if p.file == "" {
		return nil
	}
	p.record = plots.NewRecorder(s, p.size.Width)
	return []drive.Observer{p.record}
}

// draw draws the run that has been observed.
func (p *waveformPlot) draw(sum drive.Summary) error {
	if p.record == nil {
		return nil
	}
	if err := p.record.Err(); err != nil {
		return err
	}
	figure := plots.Figure{Record: p.record, Summary: sum, Theme: p.theme}
	return p.paint(sum.Title, figure.Draw)
}
