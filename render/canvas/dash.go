package canvas

import "math"

// Dash calls draw with each piece of a line that is on by the dash pattern: lengths on, off, on ... that
// start offset into the pattern, all in units of scale pixels. The lengths must be finite, not negative
// and not all zero. The piece is overwritten by the next.
func Dash(pts []Point, closed bool, pattern []float64, offset, scale float64, draw func(piece []Point)) {
	if closed && len(pts) > 0 {
		pts = append(pts[:len(pts):len(pts)], pts[0])
	}
	const finest = 0.25 // pixels a period; what is finer looks grey and would only cost time
	sum := 0.0
	for _, l := range pattern {
		sum += l * scale
	}
	if sum < finest {
		draw(pts)
		return
	}
	odd := 1.0 // a pattern of an odd number of lengths swaps on and off each time round
	if len(pattern)%2 == 1 {
		odd = 2
	}
	i := 0
	left := math.Mod(offset*scale, sum*odd)
	if left < 0 {
		left += sum * odd
	}
	for left >= pattern[i%len(pattern)]*scale {
		left -= pattern[i%len(pattern)] * scale
		i++
	}
	left = pattern[i%len(pattern)]*scale - left

	var piece []Point
	for k := 1; k < len(pts); k++ {
		from, d := pts[k-1], pts[k].Sub(pts[k-1])
		length, done := d.Abs(), 0.0
		if i%2 == 0 && len(piece) == 0 {
			piece = append(piece, from)
		}
		for length-done > left {
			done += left
			p := from.Add(d.Scale(done / length))
			if i%2 == 0 {
				draw(append(piece, p))
				piece = piece[:0]
			} else {
				piece = append(piece[:0], p)
			}
			i++
			left = pattern[i%len(pattern)] * scale
		}
		left -= length - done
		if i%2 == 0 {
			piece = append(piece, pts[k])
		}
	}
	if len(piece) > 1 {
		draw(piece)
	}
}
