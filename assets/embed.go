// Package assets holds the files that are built into the programs: bytes, and no code that reads them.
package assets

import "embed"

// Files holds the built-in scenarios and machines, as scenarios/NAME.toml and machines/NAME.toml.
//
//go:embed scenarios machines
var Files embed.FS
