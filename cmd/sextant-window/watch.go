//go:build !js

package main

import "sextant/render/window"

// watch returns who is told what the show is at: nobody, outside the browser.
func watch() func(window.State) { return nil }
