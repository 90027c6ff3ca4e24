// Package assets holds the files that are built into the programs: bytes, and no code that reads them.
package assets

import "embed"

// Files holds the built-in scenarios, machines, devices and vehicles, as scenarios/NAME.toml,
// machines/NAME.toml, devices/NAME.toml, with the curves that devices name, and vehicles/NAME.toml; and the
// duty cycles, as cycles/NAME.csv; and the lessons, as lessons/NAME.toml.
//
//go:embed scenarios machines devices vehicles cycles lessons
var Files embed.FS
