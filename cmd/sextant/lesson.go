package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sextant/inverter/si"
	"sextant/render/handout"
	"sextant/render/lesson"
)

// lessons is what the lesson command was asked for.
type lessons struct {
	answers bool
	notes   bool
	quiz    bool
	results string
	figures bool

	script string // file
	time   float64
	paper  handout.Paper
}

func lessonCommand() *cobra.Command {
	var l lessons
	cmd := &cobra.Command{
		Use:   "lesson FILE",
		Short: "Play a lesson in the terminal: words, probes and questions",
		Long: `Play a lesson as text: what each scene says, what can be measured in it, and
what is asked. All figures, and which answers are right, come of a run of the
scene's scenario.

FILE is a path or a name that "sextant list lessons" shows. With --quiz answers
are read from standard input, one a line: the number of a choice, or a number.

--script writes what a speaker reads from who gives the lesson, on paper (.pdf)
or on a phone (.html): by the clock, the picture, the words, the notes, the
questions and the answers. The scenes share --time; without it each takes its
duration in the file, but a minute at least, and a minute for each question.

A lesson of your own is a text file: "sextant show six-steps > mine.toml" gives
one to begin with, "sextant check mine.toml" says what is wrong with it, and
--figures lists the figures that its words may hold in braces, like
{machine.torque_mean_nm}. In the window or the browser, drop it on the picture.`,
		Example: `  sextant lesson one-switch
  sextant lesson lecture.toml --script script.pdf --time 45min
  sextant lesson guess-lead --quiz --results marks.csv`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("lesson plays one lesson: give a file, or a name that \"sextant list lessons\" shows")
			}
			if l.results != "" && !l.quiz {
				return errors.New("--results: there are answers to write with --quiz only")
			}
			if l.script == "" && l.time != 0 {
				return errors.New("--time: is of the speaker's script; give --script with it")
			}
			return nil
		},
		ValidArgsFunction: completeFirst(lesson.Names),
		RunE: func(c *cobra.Command, args []string) error {
			x, err := lesson.Open(args[0])
			if err != nil {
				return err
			}
			switch {
			case l.script != "":
				return l.write(x)
			case l.figures:
				return printFigures(c.OutOrStdout(), x)
			}
			p := lesson.New(x)
			play := func() error { return l.play(c.OutOrStdout(), bufio.NewScanner(c.InOrStdin()), p) }
			if l.results == "" {
				return play()
			}
			return writeAside(l.results, func(w io.Writer) error {
				if err := play(); err != nil {
					return err
				}
				return lesson.WriteResults(w, p.Results())
			})
		},
	}
	f := cmd.Flags()
	f.BoolVar(&l.answers, "answers", false, "print the right answers, and why")
	f.BoolVar(&l.notes, "notes", false, "print the speaker's notes")
	f.BoolVar(&l.quiz, "quiz", false, "read answers and judge them")
	f.StringVar(&l.results, "results", "", "write what was answered to this CSV `file`")
	f.BoolVar(&l.figures, "figures", false, "print the figures that the words of each scene may hold")
	f.StringVar(&l.script, "script", "", "write the speaker's script to this `file`, ending in .pdf or .html")
	f.Var(si.Time.Into(&l.time), "time", "`time` that the scenes of the script share, like 45min; default: as the file says")
	f.TextVar(&l.paper, "paper", handout.A4, "`paper` of the script: a4 or letter")
	f.Lookup("time").DefValue = ""
	complete(cmd, "paper", "a4", "letter")
	cmd.MarkFlagsMutuallyExclusive("answers", "quiz", "script", "figures")
	return cmd
}

// printFigures prints the figures of each scene, and of each change in it.
func printFigures(w io.Writer, x *lesson.Lesson) error {
	for i := range x.Scenes {
		s := &x.Scenes[i]
		for k := range s.Moments {
			title := fmt.Sprintf("%d. %s", i+1, s.Title)
			if k > 0 {
				title += fmt.Sprintf(", change %d", k)
			}
			fmt.Fprintf(w, "%s\n", title)
			for _, f := range s.Moments[k].Figures() {
				fmt.Fprintf(w, "   %-36s %s\n", f.Name, f.Text)
			}
		}
	}
	return nil
}

// write writes the speaker's script.
func (l *lessons) write(x *lesson.Lesson) error {
	kind, err := kindOf("script", l.script)
	if err != nil {
		return err
	}
	if err := writable(l.script); err != nil {
		return err
	}
	if err := handout.CheckTime(x, l.time); err != nil {
		return usage("--time: %w", err)
	}
	s, err := handout.ScriptOf(x, l.time)
	if err != nil {
		return err
	}
	return writeAside(l.script, func(w io.Writer) error {
		if kind == ".html" {
			return s.HTML(w)
		}
		return s.PDF(w, l.paper)
	})
}

// play goes through a lesson to its end, or to that of the answers.
func (l *lessons) play(w io.Writer, answers *bufio.Scanner, p *lesson.Player) error {
	x := p.Lesson()
	fmt.Fprintln(w, x.Title)
	saying(w, "", x.About)
	l.scene(w, p)
	for {
		moved, begun := p.Next()
		switch {
		case !moved:
			return l.sum(w, p)
		case begun:
			l.scene(w, p)
			continue
		}
		l.question(w, p.Question())
		if l.quiz {
			if more, err := l.judge(w, answers, p); err != nil {
				return err
			} else if !more {
				return l.sum(w, p)
			}
		}
	}
}

func (l *lessons) scene(w io.Writer, p *lesson.Player) {
	s := p.Scene()
	fmt.Fprintf(w, "\n%d. %s\n", p.Index()+1, s.Title)
	for _, m := range s.Moments {
		saying(w, "   ", m.Words)
	}
	if l.notes && s.Note != "" {
		saying(w, "   ", "Speaker: "+s.Note)
	}
	for _, probe := range s.Probes {
		for _, says := range probe.Says {
			saying(w, "   - ", says)
		}
	}
}

func (l *lessons) question(w io.Writer, q *lesson.Question) {
	fmt.Fprintln(w)
	saying(w, "   ? ", q.Ask)
	for i, c := range q.Choices {
		saying(w, fmt.Sprintf("     %d ", i+1), c)
	}
	if l.answers {
		saying(w, "   = ", q.Answer()+". "+q.Because)
	}
}

// judge reads answers until one can be judged; it reports whether there was one.
func (l *lessons) judge(w io.Writer, answers *bufio.Scanner, p *lesson.Player) (more bool, err error) {
	for answers.Scan() {
		v, err := p.Answer(answers.Text())
		if err != nil {
			saying(w, "     ", err.Error())
			continue
		}
		says := "Right: "
		if !v.Right {
			says = "No: it is "
		}
		saying(w, "   = ", says+v.Correct+". "+v.Because)
		return true, nil
	}
	return false, answers.Err()
}

// sum tells how many answers were right.
func (l *lessons) sum(w io.Writer, p *lesson.Player) error {
	if !l.quiz {
		return nil
	}
	right := 0
	for _, r := range p.Results() {
		if r.Right {
			right++
		}
	}
	_, err := fmt.Fprintf(w, "\n%d of %d right.\n", right, len(p.Results()))
	return err
}

// saying prints text folded, its first line led in.
func saying(w io.Writer, lead, text string) {
	for _, line := range fold(text, columns-len(lead)) {
		fmt.Fprintln(w, lead+line)
		lead = fmt.Sprintf("%*s", len(lead), "")
	}
}
