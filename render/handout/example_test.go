package handout_test

import (
	"bytes"
	"fmt"

	"sextant/inverter/pattern"
	"sextant/render/handout"
)

// A sheet of exercises on a pattern; another seed or number draws other values.
func ExampleSource_Sheet() {
	source, err := handout.OfPattern(pattern.SixStep180)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := source.Sheet(7, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(sheet.Title)
	fmt.Println(len(sheet.Exercises()), "exercises,", sheet.Points(), "points")
	var page bytes.Buffer
	err = handout.WriteHTML(&page, handout.A4, handout.Questions, []*handout.Sheet{sheet})
	fmt.Println(page.Len() > 0, err)
	// Output:
	// The pattern six-step-180
	// 8 exercises, 25 points
	// true <nil>
}
