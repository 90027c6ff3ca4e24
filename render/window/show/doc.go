// Package show is the moving picture without the window: a drive that is being shown, the record of its
// past, what the spectator may wish for, and the strip of buttons to wish with. It knows no keys, no
// mouse and no pixels of a screen, so it runs and is tested without one.
package show
