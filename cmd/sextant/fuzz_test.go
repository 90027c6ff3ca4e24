package main

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/pflag"

	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render"
	"sextant/render/picture"
)

// text is what flags of package encoding's interfaces are read by.
type text interface {
	UnmarshalText([]byte) error
	MarshalText() ([]byte, error)
}

// asFlag reads a value as a flag does.
type asFlag struct{ text }

func (f asFlag) Set(s string) error { return f.UnmarshalText([]byte(s)) }
func (f asFlag) String() string {
	s, _ := f.MarshalText()
	return string(s)
}
func (f asFlag) Type() string { return "text" }

// asFault reads a fault's name as a flag does.
type asFault struct{ drive.Fault }

func (f *asFault) Set(s string) error {
	x, err := symptom.Parse(s)
	if err == nil {
		f.Fault = x
	}
	return err
}
func (f *asFault) String() string { return symptom.Name(f.Fault) }
func (f *asFault) Type() string   { return "fault" }

// Whatever is given to a flag, it takes it and writes it so that it reads back to the same, or says in one line what
// is wrong.
func FuzzFlags(f *testing.F) {
	flags := []func() pflag.Value{
		func() pflag.Value { return &sweep{} },
		func() pflag.Value { return &junctionLimit{} },
		func() pflag.Value { return asFlag{&picture.Size{}} },
		func() pflag.Value { return asFlag{new(render.Theme)} },
		func() pflag.Value { return asFlag{new(render.Focus)} },
		func() pflag.Value { return &asFault{} },
	}
	for i, of := range [][]string{
		{"carrier=2kHz..40kHz:20", "current=0 A..1e308A", "power-factor=-1..1:2", "frequency=NaN..1", "supply=1V..2V:99999999999999999999", "=..:"},
		{"junction=150C", "junction=-300 C", "junction=1e400K", "junktion=1C", "="},
		{"1920x1080", "200X200", " 300 x 300 ", "8001x200", "+300x300", "x"},
		{"dark", "PRINT", "projector ", ""},
		{"all", "bridge-and-wheel", "tape", "-"},
		{"phase-open:V", "switch-open:U+", "demagnetised", "demagnetised:U", "switch-open:", "phase-open:u", ":", "phase-opne:V"},
	} {
		for _, s := range of {
			f.Add(uint8(i), s)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, given string) {
		fresh := flags[int(which)%len(flags)]
		flag := fresh()
		if err := flag.Set(given); err != nil {
			if s := err.Error(); s == "" || utf8.ValidString(given) && strings.ContainsAny(s, "\n\r\x00") {
				t.Errorf("%q is refused with %q", given, s)
			}
			return
		}
		written := flag.String()
		again := fresh()
		if err := again.Set(written); err != nil || again.String() != written {
			t.Errorf("%q is written %q, which reads %q, %v", given, written, again.String(), err)
		}
	})
}

// Whatever a command line holds, flags are read or refused without a panic; nothing is done.
func FuzzCommandLine(f *testing.F) {
	for _, s := range []string{
		"steps --pattern six-step-120 --supply 48V", "losses --sweep carrier=2kHz..40kHz:20 --limit junction=150C", "run x --csv - --points -1",
		"still hauler-climb --at 60ms --size 1x1", "harmonics --orders 1e9 --modulation NaN", "symptoms switch-open:U+ --scenario= --", "cycle --price a=1,b= --json=maybe",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		began := false
		cmd, rest, err := rootCommand(&began).Find(strings.Fields(line))
		if err == nil {
			err = cmd.ParseFlags(rest)
		}
		if err != nil {
			var said strings.Builder
			complain(&said, err)
			if text, whole := strings.CutSuffix(said.String(), "\n"); !whole || text == "" || strings.ContainsFunc(text, unicode.IsControl) {
				t.Errorf("%q is refused with %q", line, said.String())
			}
		}
	})
}
