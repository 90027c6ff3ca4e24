// Package film makes moving pictures of the stage for files: a stretch of a scenario's time, slowed down, as
// frames, GIF, animated PNG or, by way of ffmpeg, video. The same film is the same frames to the byte.
package film
