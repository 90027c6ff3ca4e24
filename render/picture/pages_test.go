package picture

import (
	"bytes"
	"regexp"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// Pages are as many as were asked for, each drawn with a canvas in its first state, and share their font.
func TestPages(t *testing.T) {
	st := text.Style{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: 12}, Handler: plot.DefaultTextHandler}
	face := st.Handler.Cache().Lookup(st.Font, 12)
	write := func() []byte {
		var b bytes.Buffer
		err := Pages(&b, 200, 300, "three", 3, func(i int, c vg.Canvas) {
			if w, h := c.(*pdf).Size(); w != 200 || h != 300 {
				t.Errorf("page %d is %v by %v", i, w, h)
			}
			if c := c.(*pdf); len(c.saved) > 0 || c.Place.E != 0 || c.Place.F != 300 {
				t.Errorf("page %d begins with %v at %v", i, c.saved, c.Place)
			}
			c.Push()
			c.Translate(vg.Point{X: 20, Y: 40})
			c.FillString(face, vg.Point{X: 1, Y: 2}, "on a page")
		})
		if err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	file := write()
	if n := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(file, -1)); n != 3 {
		t.Errorf("there are %d pages", n)
	}
	if n := bytes.Count(file, []byte("/FontFile2")); n != 1 {
		t.Errorf("%d fonts are embedded", n)
	}
	if !bytes.Equal(file, write()) {
		t.Error("the same pages twice are not the same file")
	}
}
