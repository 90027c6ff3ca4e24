// Package symptom predicts what a fault does to a drive: it runs the drive healthy and faulty, motoring,
// generating and at standstill, and says in words and numbers what differs, what a meter reads with the
// drive de-energised, and, the other way round, which faults explain what somebody observed.
//
// Nothing is typed in by fault: all of it follows from the runs of package drive and from the circuit.
package symptom
