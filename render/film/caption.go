package film

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// A Cue is what is said from a time of the film to another.
type Cue struct {
	From, To time.Duration
	Text     string
}

// leastCue is how long a caption stays at least: one that changes with every frame could not be read.
const leastCue = 2 * time.Second

// captions gathers what the frames say.
type captions struct {
	rate int
	cues []Cue
}

func (c *captions) at(k int) time.Duration {
	return time.Duration(k) * time.Second / time.Duration(c.rate)
}

func (c *captions) say(k int, text string) {
	now := c.at(k)
	if n := len(c.cues); n > 0 {
		last := &c.cues[n-1]
		if last.Text == text || now-last.From < leastCue {
			return
		}
		last.To = now
	}
	c.cues = append(c.cues, Cue{From: now, Text: text})
}

// end returns all cues of a film of n frames.
func (c *captions) end(n int) []Cue {
	if last := len(c.cues) - 1; last >= 0 {
		c.cues[last].To = c.at(n)
	}
	return c.cues
}

// WriteVTT writes cues as W3C, "WebVTT: The Web Video Text Tracks Format" says.
func WriteVTT(w io.Writer, cues []Cue) error {
	var b strings.Builder
	b.WriteString("WEBVTT\n")
	escape := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")
	for _, c := range cues {
		fmt.Fprintf(&b, "\n%s --> %s\n%s\n", stamp(c.From), stamp(c.To), escape.Replace(c.Text))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func stamp(t time.Duration) string {
	ms := t.Round(time.Millisecond).Milliseconds()
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3600000, ms/60000%60, ms/1000%60, ms%1000)
}
