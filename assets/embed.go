// Package assets holds the files that are built into the programs: bytes, and no code that reads them.
package assets

import "embed"

// Files holds the built-in scenarios, machines and devices, as scenarios/NAME.toml, machines/NAME.toml and
// devices/NAME.toml, with the curves that devices name.
//
//go:embed scenarios machines devices
var Files embed.FS
