package chart_test

import (
	"fmt"
	"os"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgsvg"

	"sextant/render"
	"sextant/render/chart"
)

// A table of which switches conduct in which step, as a picture.
func ExampleSheet_Draw() {
	s := chart.Sheet{
		Title:  "Switches on, step by step",
		Groups: []chart.Group{{Name: "step", Columns: []string{"1", "2", "3"}}},
		Rows: []chart.Row{
			{Name: "U+", Marks: []chart.Mark{chart.Full, chart.Full, chart.Blank}},
			{Name: "U-", Marks: []chart.Mark{chart.Blank, chart.Blank, chart.Full}},
		},
		Theme: render.Print,
	}
	const width, height = 300, 200
	c := vgsvg.New(width, height)
	s.Draw(c, vg.Rectangle{Max: vg.Point{X: width, Y: height}})
	file, err := os.CreateTemp("", "steps*.svg")
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
