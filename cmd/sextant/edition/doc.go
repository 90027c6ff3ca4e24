// Package edition is the browser edition of the moving picture: built from the module's source with the
// Go tool and kept in the user's cache, or built into the program under the tag embedded; served on the loopback
// address or written as a static site.
package edition

//go:generate go run sextant/cmd/sextant serve --out built
