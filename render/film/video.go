package film

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strconv"
	"strings"
)

// coding is how ffmpeg is told to write a kind of video.
var coding = map[string][]string{
	"mp4":  {"-c:v", "libx264", "-preset", "veryfast", "-crf", "20", "-tune", "animation", "-pix_fmt", "yuv420p", "-movflags", "+faststart", "-f", "mp4"},
	"webm": {"-c:v", "libvpx-vp9", "-crf", "30", "-b:v", "0", "-row-mt", "1", "-pix_fmt", "yuv420p", "-f", "webm"},
}

// FindFFmpeg returns the path of the program that writes videos, or says what to do without it.
func FindFFmpeg() (string, error) {
	path, err := exec.LookPath("ffmpeg")
	if err != nil {
		return "", errors.New("videos are written by ffmpeg, which is not on PATH; install it, or give -o a name that ends in .gif or .png")
	}
	return path, nil
}

// WriteVideo writes the film to a file as "mp4" or "webm", over what it holds, by piping the frames to the
// program at ffmpeg. Sides must be even.
func (f *Film) WriteVideo(ctx context.Context, ffmpeg, kind, file string, tell func(int)) ([]Cue, error) {
	if f.Size.Width%2 != 0 || f.Size.Height%2 != 0 {
		return nil, fmt.Errorf("%v: the sides of a video are even", f.Size)
	}
	args := []string{"-hide_banner", "-loglevel", "error", "-y", "-f", "rawvideo", "-pix_fmt", "rgba",
		"-s", f.Size.String(), "-r", strconv.Itoa(f.Rate), "-i", "-", "-an", "-map_metadata", "-1",
		"-fflags", "+bitexact", "-flags:v", "+bitexact",
		// Players take what does not say otherwise for the colours of one television norm or another.
		"-vf", "scale=out_color_matrix=bt709:out_range=tv",
		"-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709", "-color_range", "tv"}
	cmd := exec.CommandContext(ctx, ffmpeg, append(append(args, coding[kind]...), file)...)
	var said bytes.Buffer
	cmd.Stderr = &said
	pipe, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	cues, err := f.writeRaw(ctx, pipe, tell)
	pipe.Close()
	if ended := cmd.Wait(); ended != nil && ctx.Err() == nil {
		return nil, fmt.Errorf("ffmpeg: %w: %s", ended, strings.TrimSpace(said.String()))
	}
	return cues, err
}
