package file

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

// Slips that people make who write TOML for the first time, by the line that they are in.
var (
	decimalComma = regexp.MustCompile(`^\s*([\w.-]+)\s*=\s*([-+]?\d+),(\d+)\s*([A-Za-z%µ°Ω]*)\s*(#.*)?$`)
	bareUnit     = regexp.MustCompile(`^\s*([\w.-]+)\s*=\s*([-+]?[\d._]+\s*[A-Za-z%µ°Ω][^"'#]*?)\s*(#.*)?$`)
	bareWord     = regexp.MustCompile(`^\s*([\w.-]+)\s*=\s*([A-Za-z][^"'#=]*?)\s*(#.*)?$`)
	noValue      = regexp.MustCompile(`^\s*([\w.-]+)\s*=\s*(#.*)?$`)
	colon        = regexp.MustCompile(`^\s*([\w.-]+)\s*:\s*(.*?)\s*$`)
	tail         = regexp.MustCompile(`=\s*("[^"]*"|'[^']*'|[-+\d._]+)\s*([,;])`)
	slashes      = regexp.MustCompile(`(^|\s)(//|/\*|;)`)
)

// plain says in plain words what is wrong with a line that is no TOML; what it has no words for, the reader's error
// says.
func plain(line string, err error) error {
	says := strings.TrimPrefix(err.Error(), "toml: ")
	switch {
	case strings.ContainsAny(line, "\x00\x1a"):
		return errors.New("this is no text")
	case !utf8.ValidString(line):
		return errors.New("a character is not UTF-8; save the file as UTF-8, or write u for micro and deg for degrees")
	case strings.ContainsAny(line, "“”„‟«»‘’"):
		return errors.New(`quotes are curly; write straight ones, like "350 V"`)
	case strings.IndexByte(line, '\r') >= 0:
		return errors.New("lines end in CR alone; save the file with LF or CR LF")
	case strings.Contains(says, "strings cannot have new lines"):
		return errors.New("a quote is not closed")
	case strings.HasSuffix(says, "is already defined"):
		return errors.New("stands twice; leave one out")
	case !strings.Contains(says, "expected") && !strings.Contains(says, "unexpected") && !strings.Contains(says, "invalid"):
		return errors.New(says) // such as a key that is given twice
	}
	if m := decimalComma.FindStringSubmatch(line); m != nil {
		value := m[2] + "." + m[3]
		if m[4] != "" {
			value = `"` + value + " " + m[4] + `"`
		}
		return fmt.Errorf("has a decimal comma; write a point: %s = %s", m[1], value)
	}
	if m := bareUnit.FindStringSubmatch(line); m != nil {
		return fmt.Errorf("a value with a unit stands in quotes: %s = %q", m[1], strings.TrimRight(m[2], ",; "))
	}
	if m := bareWord.FindStringSubmatch(line); m != nil {
		if small := strings.ToLower(m[2]); small == "true" || small == "false" {
			return fmt.Errorf("true and false are written in small letters: %s = %s", m[1], small)
		}
		return fmt.Errorf("words stand in quotes: %s = %q", m[1], strings.TrimRight(m[2], ",; "))
	}
	if m := noValue.FindStringSubmatch(line); m != nil {
		return fmt.Errorf("%s has no value; write one behind the =, or leave the line out", m[1])
	}
	if m := tail.FindStringSubmatch(line); m != nil {
		return fmt.Errorf("has a %s behind the value; leave it out (comments begin with #)", map[string]string{",": "comma", ";": "semicolon"}[m[2]])
	}
	if slashes.MatchString(line) {
		return errors.New("comments begin with #")
	}
	if m := colon.FindStringSubmatch(line); m != nil {
		return fmt.Errorf("keys and values are joined by =, not by a colon: %s = %s", m[1], m[2])
	}
	if says == "expected '=' after key" {
		return errors.New("a line is a key of one word, then =, then a value")
	}
	return errors.New(says)
}

// lineOf returns a line of data, from 1, without its end.
func lineOf(data []byte, n int) string {
	lines := bytes.SplitN(data, []byte("\n"), n+1)
	if n < 1 || n > len(lines) {
		return ""
	}
	return strings.TrimSuffix(string(lines[n-1]), "\r")
}
