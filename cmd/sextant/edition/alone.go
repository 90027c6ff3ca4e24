//go:build !embedded

package edition

// Embedded returns the browser edition that is built into this program; ok is false where none is.
func Embedded() (files Files, ok bool, err error) { return nil, false, nil }
