// Package inverter describes the three-phase bridge: six switches in three legs between two rails,
// the voltages that they lay on the phases, and the space vector that those make.
//
// Conventions, for this package and all that build on it:
//
//   - Phases are U, V and W. A positive current flows into the machine.
//   - Switches are U+ U- V+ V- W+ W-; + is the one to the positive rail.
//   - Angles are electrical and in radians; zero is the magnetic axis of phase U, positive is the sense
//     U to V to W. Marking and sense follow IEC 60034-8: phases that come in the time order U, V, W on
//     the terminals U, V, W turn the shaft clockwise as seen from the drive end.
//   - Pole voltages are taken from the negative rail, phase voltages from the star point.
//   - Vectors are amplitude-invariant: phases of peak A make a vector of length A.
//   - Quantities are SI; amplitudes are peaks unless a name says RMS.
package inverter
