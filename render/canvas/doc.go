// Package canvas holds what every [vg.Canvas] of ours does alike, whatever it draws on: where drawings land, how wide lines
// are and how they are dashed, and paths as straight pieces in pixels.
package canvas
