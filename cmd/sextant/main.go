// Command sextant calculates and simulates the six-switch three-phase inverter and the permanent-magnet
// machine behind it, and opens the moving picture of them. "sextant --help" lists its commands.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
