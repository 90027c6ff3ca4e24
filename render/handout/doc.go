// Package handout makes printable exercise sheets with answers, of a lesson, a scenario or a gating pattern: tables to
// fill in, waveforms and vectors to draw, faults to name, numbers to work out; and the script that a lesson's speaker reads
// from.
//
// Nobody types an answer. Values are drawn at random from a seed and the number of the sheet, and each answer is
// computed from them by the model; what would be zero, or so close to a rounding boundary that a careful solver could
// round the other way, is drawn again. The same source, seed and number make the same sheet.
package handout
