// Package duty takes a machine and its bridge through a duty cycle: from rows of speed and torque, or of road
// speed and grade with a vehicle, to currents, losses, temperatures, and what the battery gave and took.
//
// Between two rows speed, torque and grade go in straight lines, and what an interval costs is worked out at
// its middle; so steps of a second or less suit a vehicle. Every interval is a steady state: the inductances'
// energy is left out.
package duty
