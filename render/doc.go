// Package render draws the stage: a drive at an instant, with the stretch of record that led to it, on
// any vg.Canvas. It draws finished answers and computes no physics.
//
// The stage has five parts: the bridge with its conducting paths, the wheel (the machine in section
// within the hexagon of voltage vectors), the tape (waveforms running past a now-line), the sentence
// (what happens now, in words) and the ledger (where the power goes). [Arrange] lays them out for any
// size; [DrawStill] draws what does not move, [DrawMoving] the rest, [Draw] both.
package render
