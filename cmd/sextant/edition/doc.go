// Package edition is the browser edition of the moving picture: built from the module's source with the
// Go tool, kept in the user's cache, served on the loopback address or written as a static site.
package edition
