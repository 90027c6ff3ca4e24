package render

import "gonum.org/v1/plot/vg"

// ArrangeSilent lays out as [Arrange] does, but leaves out the sentence, and gives the other parts its room.
func ArrangeSilent(f Focus, area vg.Rectangle, textScale float64, show ...Lane) Layout {
	l, tall := Arrange(f, area, textScale, show...), area
	for range 8 { // how tall the sentence is depends, a little, on the whole
		tall.Max.Y = area.Max.Y + l.Sentence.Max.Y - l.Sentence.Min.Y - l.margin
		l = Arrange(f, tall, textScale, show...)
	}
	l.Area, l.Sentence = area, vg.Rectangle{}
	return l
}
