package plots_test

import (
	"fmt"
	"os"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgsvg"

	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/plots"
)

// The waveforms of a run, recorded while it goes and drawn when it is over.
func ExampleFigure_Draw() {
	s, err := scenario.Open("trainer-six-step")
	if err != nil {
		fmt.Println(err)
		return
	}
	const width, height = 600, 400
	record := plots.NewRecorder(&s, width)
	sum, err := drive.Simulate(s, record)
	if err != nil {
		fmt.Println(err)
		return
	}
	figure := plots.Figure{Record: record, Summary: sum, Theme: render.Print}
	c := vgsvg.New(width, height)
	figure.Draw(c, vg.Rectangle{Max: vg.Point{X: width, Y: height}})
	file, err := os.CreateTemp("", "run*.svg")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.Remove(file.Name())
	_, err = c.WriteTo(file)
	fmt.Println(err, file.Close())
	// Output:
	// <nil> <nil>
}
