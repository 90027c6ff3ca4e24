package display_test

import (
	"os"
	"os/exec"
	"testing"

	"sextant/render/window/display"
)

// TestOnDisplay runs the tests of the window package on a display of their own: a Linux program that
// links Ebitengine ends at start where there is none, so they cannot start it themselves.
func TestOnDisplay(t *testing.T) {
	lookAtSource(t)
	cmd := exec.Command("go", "test", "-count=1", "-tags=display", "sextant/render/window")
	// A profile of coverage that the outer go test was told of by GOFLAGS is not the inner one's to write.
	cmd.Env = append(os.Environ(), "DISPLAY="+display.Start(t, 1280, 800), "LIBGL_ALWAYS_SOFTWARE=1", "GOFLAGS=")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
