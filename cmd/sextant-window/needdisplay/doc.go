// Package needdisplay ends a program on Linux, with a message, where there is no display, or when that goes away. Import it for
// that effect.
//
// Ebitengine looks for the display while its packages are initialised, before main, and panics without
// one. Packages are initialised in the order of their import paths, as soon as what they import is (Go
// specification, "Program initialization"). This one imports little, so its turn comes before package
// net's dependencies under "vendor/", and with them before Ebitengine's, which imports net.
package needdisplay
