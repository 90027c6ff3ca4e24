package picture_test

import (
	"bytes"
	"fmt"
	"image/png"

	"gonum.org/v1/plot/vg"

	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/picture"
)

// A picture of a scenario at a time, as a file has it.
func ExamplePaint() {
	s, err := scenario.Open("trainer-six-step")
	if err != nil {
		fmt.Println(err)
		return
	}
	view, err := picture.At(s, 12e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	size := picture.Size{Width: 800, Height: 450}
	look := picture.Look{Size: size}
	var b bytes.Buffer
	err = picture.Paint(&b, picture.PNG, size, s.Title, func(c vg.Canvas, area vg.Rectangle) {
		render.Draw(c, look.Arrange(area), view)
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	made, err := png.DecodeConfig(&b)
	fmt.Println(made.Width, made.Height, err)
	// Output:
	// 800 450 <nil>
}
