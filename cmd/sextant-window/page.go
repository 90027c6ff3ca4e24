//go:build !js

package main

import "sextant/render/window/show"

// handed returns the scenario's file that the page's address holds: none, outside the browser.
func handed() (name string, text []byte) { return "", nil }

// share tells the page what its address should hold: nobody, outside the browser.
func share(*show.Show) {}
