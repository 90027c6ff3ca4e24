package film

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"sextant/render/picture"
)

// Where ffmpeg is, a video reads back with its frames, size and duration, and shows what was drawn; where it is not, the
// film says what to do.
func TestVideoReadsBack(t *testing.T) {
	ffmpeg, err := FindFFmpeg()
	if err != nil {
		if !strings.Contains(err.Error(), "not on PATH; install it") {
			t.Errorf("without ffmpeg: %v", err)
		}
		return
	}
	f := demo(t, "trainer-six-step")
	f.Size = picture.Size{Width: 320, Height: 180}
	want := raw(t, f)
	for _, kind := range []string{"mp4", "webm"} {
		var files [2][]byte
		name := filepath.Join(t.TempDir(), "film."+kind)
		for k := range files {
			told := 0
			if _, err := f.WriteVideo(t.Context(), ffmpeg, kind, name, func(n int) { told = n }); err != nil || told != demoFrames {
				t.Fatalf("%s: told of %d frames, %v", kind, told, err)
			}
			if files[k], err = os.ReadFile(name); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(files[0], files[1]) {
			t.Errorf("%s: the same film twice is not the same file", kind)
		}
		says := probed(t, name)
		seconds, _ := strconv.ParseFloat(says["duration"], 64)
		if says["width"] != "320" || says["height"] != "180" || says["nb_read_frames"] != strconv.Itoa(demoFrames) ||
			math.Abs(seconds-demoFrames/15.0) > 0.01 || says["pix_fmt"] != "yuv420p" || says["color_space"] != "bt709" || says["color_range"] != "tv" {
			t.Errorf("%s: %v", kind, says)
		}
		decoded, err := exec.Command(ffmpeg, "-loglevel", "error", "-i", name, "-f", "rawvideo", "-pix_fmt", "rgba", "-").Output()
		if err != nil || len(decoded) != demoFrames*len(want[0]) {
			t.Fatalf("%s: %d bytes, %v", kind, len(decoded), err)
		}
		for k := range want {
			sum := 0.0
			for i, x := range decoded[k*len(want[0]) : (k+1)*len(want[0])] {
				sum += math.Abs(float64(x) - float64(want[k][i]))
			}
			if mean := sum / float64(len(want[k])); mean > 4 { // of 255; half as many colours as pixels are kept
				t.Errorf("%s: frame %d is %.1f off in the mean", kind, k, mean)
			}
		}
	}
}

// probed returns what ffprobe says of a video's frames.
func probed(t *testing.T, name string) map[string]string {
	t.Helper()
	out, err := exec.Command("ffprobe", "-v", "error", "-count_frames", "-show_entries",
		"stream=width,height,pix_fmt,color_space,color_range,nb_read_frames:format=duration", "-of", "default=noprint_wrappers=1", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	says := map[string]string{}
	for line := range strings.Lines(string(out)) {
		key, value, _ := strings.Cut(strings.TrimSpace(line), "=")
		says[key] = value
	}
	return says
}
