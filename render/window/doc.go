// Package window shows the stage moving, in a native window and in the browser: it is the only package
// that draws and reads input with Ebitengine.
//
// A Linux program that imports it ends at start where there is no display.
package window
