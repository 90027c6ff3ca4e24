package main

import (
	"errors"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/inverter/pattern"
	"sextant/inverter/slip"
	"sextant/motor/scenario"
	"sextant/render/handout"
	"sextant/render/lesson"
)

// handing is what the handout command was asked for.
type handing struct {
	pattern     string
	output, key string
	paper       handout.Paper
	seed        uint64
	copies      int
	scenes      bool
	exercises   bool
}

// mostCopies is how many sheets are made at once at most.
const mostCopies = 1000

func handoutCommand() *cobra.Command {
	var h handing
	cmd := &cobra.Command{
		Use:   "handout [FILE] -o SHEETS",
		Short: "Write printable exercise sheets with answers: PDF or HTML",
		Long: `Write printable exercise sheets: tables to fill in, waveforms and vectors to
draw, faults to name, numbers to work out, and the questions of a lesson. The
answers, each with its working, are on pages of their own behind the sheets, or
in the file that --key names.

FILE is a lesson or a scenario: a path, the name of one that is built in, or -
for standard input; --pattern makes sheets on a gating pattern instead.

--copies makes so many sheets that all differ. A sheet and its key bear the same
number and seed, which make the same sheet again. Of a lesson, --scenes=false
leaves the exercises whose values differ, --exercises=false the lesson's own
questions.

The file's name says its kind, .pdf or .html; the latter needs nothing else to
be read or printed.`,
		Example: `  sextant handout six-steps -o steps.pdf
  sextant handout hauler-climb --copies 30 --seed 7 -o class.pdf --key key.pdf
  sextant handout --pattern space-vector --paper letter -o vectors.html`,
		Args:              h.args,
		ValidArgsFunction: completeFirst(lesson.Names, scenario.Names),
		RunE:              func(c *cobra.Command, args []string) error { return h.do(c, args) },
	}
	f := cmd.Flags()
	f.StringVarP(&h.output, "output", "o", "", "the sheets' `file`, ending in .pdf or .html")
	f.StringVar(&h.key, "key", "", "write the answers to this `file`, of the same kind, instead of behind the sheets")
	f.StringVar(&h.pattern, "pattern", "", "make sheets on this gating `pattern`")
	f.TextVar(&h.paper, "paper", handout.A4, "`paper`: a4 or letter")
	f.Uint64Var(&h.seed, "seed", 1, "`number` that values are drawn from")
	f.IntVar(&h.copies, "copies", 1, "`number` of different sheets, 1 to 1000")
	f.BoolVar(&h.scenes, "scenes", true, "show a lesson's scenes and ask their questions; --scenes=false leaves them out")
	f.BoolVar(&h.exercises, "exercises", true, "set exercises with values of each sheet's own; --exercises=false leaves them out")
	complete(cmd, "pattern", handout.Patterns()...)
	complete(cmd, "paper", "a4", "letter")
	return cmd
}

func (h *handing) args(_ *cobra.Command, args []string) error {
	switch {
	case len(args) > 1:
		return errors.New("handout is of one lesson or scenario; give one file")
	case len(args) == 0 && h.pattern == "":
		return errors.New("handout is of a lesson or a scenario: give a file, or a name that \"sextant list\" shows, or --pattern")
	case len(args) == 1 && h.pattern != "":
		return errors.New("--pattern: stands in the place of a file; leave one of the two out")
	}
	return nil
}

// kindOf returns the kind of sheets that a file's name asks for.
func kindOf(flag, name string) (string, error) {
	kind := strings.ToLower(filepath.Ext(name))
	if kind != ".pdf" && kind != ".html" {
		return "", usage("--%s: %q names no kind of sheets; they end in .pdf or .html", flag, name)
	}
	return kind, nil
}

func (h *handing) do(c *cobra.Command, args []string) error {
	if h.output == "" {
		return usage("handout writes a file: give -o with a name that ends in .pdf or .html")
	}
	kind, err := kindOf("output", h.output)
	if err != nil {
		return err
	}
	if h.key != "" {
		if other, err := kindOf("key", h.key); err != nil {
			return err
		} else if other != kind || filepath.Clean(h.key) == filepath.Clean(h.output) {
			return usage("--key: %q must be another file of the same kind, %s", h.key, kind)
		}
	}
	if h.copies < 1 || h.copies > mostCopies {
		return usage("--copies: %d is out of range; give 1 to %d", h.copies, mostCopies)
	}
	for _, name := range []string{h.output, h.key} {
		if err := writable(name); err != nil {
			return err
		}
	}
	source, err := h.source(c, args)
	if err != nil {
		return err
	}
	if !h.scenes {
		source.WithoutScenes()
	}
	if !h.exercises {
		if err := source.WithoutExercises(); err != nil {
			return usage("--exercises=false: %w", err)
		}
	}
	var sheets []*handout.Sheet
	for k := range h.copies {
		s, err := source.Sheet(h.seed, k+1)
		if err != nil {
			return err
		}
		sheets = append(sheets, s)
	}
	write := func(name string, part handout.Part) error {
		return writeAside(name, func(w io.Writer) error {
			if kind == ".html" {
				return handout.WriteHTML(w, h.paper, part, sheets)
			}
			return handout.WritePDF(w, h.paper, part, sheets)
		})
	}
	if h.key == "" {
		return write(h.output, handout.Both)
	}
	return errors.Join(write(h.output, handout.Questions), write(h.key, handout.Answers))
}

// source reads what the sheets are of.
func (h *handing) source(c *cobra.Command, args []string) (*handout.Source, error) {
	if len(args) == 0 {
		k, err := pattern.ParseKind(h.pattern)
		if err != nil {
			return nil, usage("--pattern: %w", err)
		}
		s, err := handout.OfPattern(k)
		if err != nil {
			return nil, usage("--pattern: %w", err)
		}
		return s, nil
	}
	found, data, err := readAny(c, args[0])
	if err != nil {
		if near := slip.Nearest(args[0], append(lesson.Names(), scenario.Names()...)); near != "" {
			return nil, usage("%s: there is no such lesson, scenario or file; did you mean %s?", args[0], near)
		}
		return nil, err
	}
	if d, wrong := file.Parse(found, data); wrong == nil && lesson.Is(d) {
		l, err := lesson.Load(found, data)
		if err != nil {
			return nil, err
		}
		return handout.OfLesson(l)
	}
	s, err := scenario.Load(found, data)
	if err != nil {
		return nil, err
	}
	x, err := handout.OfScenario(s)
	return x, named(err, args[0])
}
