package file_test

import (
	"strings"
	"testing"

	"sextant/inverter/file"
)

// TestSlips: a slip of somebody who is new to such files is answered with how to write it. That lines which are
// proposed are right is tried by reading them.
func TestSlips(t *testing.T) {
	for line, says := range map[string]string{
		`voltage = 540,5`:             `has a decimal comma; write a point: voltage = 540.5`,
		`voltage = 540,5 V # ok`:      `has a decimal comma; write a point: voltage = "540.5 V"`,
		`voltage = 540 V`:             `a value with a unit stands in quotes: voltage = "540 V"`,
		`start_angle = 30°`:           `a value with a unit stands in quotes: start_angle = "30°"`,
		`pattern = space-vector`:      `words stand in quotes: pattern = "space-vector"`,
		`free = True`:                 `true and false are written in small letters: free = true`,
		`voltage = "540 V",`:          `has a comma behind the value; leave it out (comments begin with #)`,
		`voltage = "540 V"; the link`: `has a semicolon behind the value; leave it out (comments begin with #)`,
		`voltage = 540 // the link`:   `comments begin with #`,
		`// the link`:                 `comments begin with #`,
		`voltage: 540`:                `keys and values are joined by =, not by a colon: voltage = 540`,
		`voltage = “540 V”`:           `quotes are curly; write straight ones, like "350 V"`,
		`voltage = `:                  `voltage has no value; write one behind the =, or leave the line out`,
		`voltage = "540 V`:            `a quote is not closed`,
		`start speed = 3`:             `a line is a key of one word, then =, then a value`,
		"title = \"3 \xb5H\"":         `a character is not UTF-8; save the file as UTF-8, or write u for micro and deg for degrees`,
		"a = 1\rb = 2":                `lines end in CR alone; save the file with LF or CR LF`,
		"\x89PNG\x1a":                 `this is no text`,
		"x = 1\nx = 2":                `stands twice; leave one out`,
	} {
		_, wrong := file.Parse("x.toml", []byte("[supply]\n"+line+"\nlast = 1\n"))
		if wrong == nil || wrong.Err.Error() != says {
			t.Errorf("%q\n got %v\nwant %s", line, wrong, says)
			continue
		}
		if _, proposed, ok := strings.Cut(says, ": "); ok {
			if _, wrong := file.Parse("x.toml", []byte(proposed)); wrong != nil {
				t.Errorf("%q proposes %q: %v", line, proposed, wrong)
			}
		}
	}
}

// TestWide: editors of some systems save UTF-16.
func TestWide(t *testing.T) {
	text := "\xff\xfe"
	for _, c := range []byte("\n\nvoltage = 350\n") {
		text += string([]byte{c, 0})
	}
	d, wrong := file.Parse("x.toml", []byte(text))
	if wrong != nil || d.Values["voltage"] != int64(350) || d.Line("voltage") != 3 {
		t.Errorf("%v, line %d, %v", d.Values, d.Line("voltage"), wrong)
	}
}
