package film_test

import (
	"bytes"
	"context"
	"fmt"
	"image/gif"

	"sextant/motor/scenario"
	"sextant/render/film"
	"sextant/render/picture"
)

// A turn of a scenario, shown in half a second.
func ExampleFilm_WriteGIF() {
	s, err := scenario.Open("trainer-six-step")
	if err != nil {
		fmt.Println(err)
		return
	}
	f := film.Film{
		Scenario: &s, From: s.Run.Settle, To: s.Run.Settle + picture.Turn(&s), Duration: 0.5, Rate: 10,
		Size: picture.Size{Width: 240, Height: 200},
	}
	var b bytes.Buffer
	if _, err := f.WriteGIF(context.Background(), &b, nil); err != nil {
		fmt.Println(err)
		return
	}
	made, err := gif.DecodeAll(&b)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(made.Image), "frames of", f.Size)
	// Output:
	// 5 frames of 240x200
}
