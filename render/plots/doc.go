// Package plots draws the waveforms of a run as panels over one axis of time, for print: voltages, currents,
// torque, speed and link. A [Recorder] observes the run and keeps what the picture needs, in bounded memory;
// [Draw] draws it on any vg.Canvas.
package plots
