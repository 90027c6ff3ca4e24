package picture

import (
	"io"

	"gonum.org/v1/plot/vg"
)

// Pages writes a PDF of so many pages of one size. Draw draws page i, from 0, on the whole of it; the title is told
// to those who ask the file for it. Fonts are embedded once for all pages.
func Pages(w io.Writer, width, height vg.Length, title string, pages int, draw func(i int, c vg.Canvas)) error {
	c := newPDF(width, height, title)
	for i := range pages {
		if i > 0 {
			c.page()
		}
		draw(i, c)
	}
	_, err := c.WriteTo(w)
	return err
}
