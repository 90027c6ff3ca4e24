package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"sextant/inverter"
	"sextant/inverter/si"
	"sextant/render"
	"sextant/render/film"
	"sextant/render/picture"
)

// filming is what the film command was asked for.
type filming struct {
	output, subtitles string
	begins, ends      picture.Moment
	scale, duration   float64 // 1, s
	lanes             []string
	scene             int
	questions         bool
	think             float64 // s
	rate              int
	size              picture.Size
	theme             render.Theme
	focus             render.Focus
	numbering         inverter.Numbering
}

func filmCommand() *cobra.Command {
	var m filming
	cmd := &cobra.Command{
		Use:   "film FILE -o FILM",
		Short: "Make a moving picture of a scenario or a lesson: GIF, PNG or video",
		Long: `Make a moving picture of a scenario, slowed down: by default one electrical turn
in six seconds, from the end of its settling on. Or make one of a lesson: scene
by scene as its file says, with its words below the stage, each as long as it
takes to read, then its questions, with time to think, and the answers. No
display is needed.

FILE is a path, the name of a built-in scenario or lesson, or - for standard
input. The film's name says its kind: .gif, .png (animated), .mp4 or .webm
(which need ffmpeg), or a folder that is not there yet, for frames as PNG files.`,
		Example: `  sextant film six-steps -o six-steps.mp4 --subtitles six-steps.vtt
  sextant film trainer-six-step -o turn.gif --size 960x540
  sextant film hauler-pwm -o pwm.mp4 --scale 1ms --duration 12s --fps 60
  sextant film hauler-phase-lost --from fault --lanes currents -o lost.gif
  sextant film hauler-climb -o frames --theme print --subtitles climb.vtt`,
		Args:              oneSubject,
		ValidArgsFunction: completeSubject,
		RunE:              func(c *cobra.Command, args []string) error { return m.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.StringVarP(&m.output, "output", "o", "", "the film's `file`, ending in .gif, .png, .mp4 or .webm, or a folder")
	f.StringVar(&m.subtitles, "subtitles", "", "write what the film says to this `file`, ending in .vtt")
	f.TextVar(&m.begins, "from", picture.Moment{}, "`moment` of the scenario at which the film begins: a time, or a name, as still has them")
	f.TextVar(&m.ends, "to", picture.Moment{}, "`moment` at which it ends; default: an electrical turn later")
	f.Var(si.Time.Into(&m.scale), "scale", "the scenario's `time` that passes in a second of the film, like 1ms")
	f.Var(si.Time.Into(&m.duration), "duration", "`time` that the film takes; default 6s")
	f.IntVar(&m.scene, "scene", 0, "show only this scene of a lesson, by its `number`")
	f.BoolVar(&m.questions, "questions", true, "ask a lesson's questions, and answer them; --questions=false leaves them out")
	m.think = 5
	f.Var(si.Time.Into(&m.think), "think", "`time` to think between question and answer")
	f.IntVar(&m.rate, "fps", 25, "`frames` a second, 1 to 120; of a GIF, to 50")
	f.TextVar(&m.size, "size", picture.Size{Width: 1280, Height: 720}, "`size` in pixels")
	f.TextVar(&m.theme, "theme", render.Dark, "`colours`: dark, light, projector or print")
	f.TextVar(&m.focus, "focus", render.Everything, "`part` to show large: all, bridge, wheel, bridge-and-wheel or tape")
	lanesFlag(cmd, &m.lanes)
	numberingFlag(cmd, &m.numbering)
	optional(cmd, "to", "scale", "duration")
	f.Lookup("think").DefValue = "5s"
	complete(cmd, "focus", "all", "bridge", "wheel", "bridge-and-wheel", "tape")
	complete(cmd, "theme", "dark", "light", "projector", "print")
	return cmd
}

// usualFilm is how many s a film takes that is not told otherwise.
const usualFilm = 6

// lesson has the film show a lesson.
func (m *filming) lesson(c *cobra.Command, s *subject, f *film.Film) error {
	if err := s.refuse(c, "from", "to", "scale", "duration", "focus"); err != nil {
		return err
	}
	if err := s.only(m.scene); err != nil {
		return err
	}
	if !(m.think >= 1e-3 && m.think <= 3600) {
		return usage("--think: give a time from 1ms to 3600s")
	}
	if f.Lesson = s.lesson; m.questions {
		f.Think = m.think
	}
	return nil
}

// stretch has the film show a scenario: from when to when, and how long that takes.
func (m *filming) stretch(c *cobra.Command, s *subject, f *film.Film) error {
	given := c.Flags().Changed
	for _, name := range []string{"scene", "questions", "think"} {
		if given(name) {
			return usage("--%s: goes with a lesson; a scenario has no such thing", name)
		}
	}
	for _, name := range []string{"scale", "duration"} {
		if x, _ := si.Time.Parse(c.Flag(name).Value.String()); given(name) && !(x > 0) {
			return usage("--%s: give a time above zero", name)
		}
	}
	if given("to") && given("scale") && given("duration") {
		return usage("--to: follows from --scale and --duration; leave one of the three out")
	}
	from, err := m.begins.Time(&s.scenario)
	if err != nil {
		return usage("--from: %w", err)
	}
	to := 0.0
	if given("to") {
		if to, err = m.ends.Time(&s.scenario); err != nil {
			return usage("--to: %w", err)
		}
	}
	switch {
	case given("to") && given("scale"):
		m.duration = (to - from) / m.scale
	case !given("duration"):
		m.duration = usualFilm
	}
	switch {
	case given("to"):
	case given("scale"):
		to = from + m.scale*m.duration
	default:
		to = from + picture.Turn(&s.scenario)
	}
	f.Scenario, f.From, f.To, f.Duration, f.Focus = &s.scenario, from, to, m.duration, m.focus
	return nil
}

func (m *filming) do(c *cobra.Command, file string) error {
	kind := strings.TrimPrefix(strings.ToLower(filepath.Ext(m.output)), ".")
	switch {
	case m.output == "":
		return usage("film draws to a file: give -o with a name that ends in .gif, .png, .mp4 or .webm, or a folder")
	case kind != "" && kind != "gif" && kind != "png" && kind != "mp4" && kind != "webm":
		return usage("--output: %q names no kind of film; films end in .gif, .png, .mp4 or .webm, folders of frames in nothing", m.output)
	case m.subtitles != "" && !strings.EqualFold(filepath.Ext(m.subtitles), ".vtt"):
		return usage("--subtitles: %q does not end in .vtt", m.subtitles)
	case kind == "gif" && m.rate > film.MostGIFRate:
		return usage("--fps: a GIF has at most %d frames a second; give that, or another kind of film", film.MostGIFRate)
	case (kind == "mp4" || kind == "webm") && (m.size.Width%2 != 0 || m.size.Height%2 != 0):
		return usage("--size: %v: the sides of a video are even", m.size)
	}
	s, err := openSubject(c, file)
	if err != nil {
		return err
	}
	lanes, err := lanesOf(m.lanes)
	if err != nil {
		return err
	}
	f := &film.Film{Rate: m.rate, Size: m.size, Theme: m.theme, Numbering: m.numbering, Lanes: lanes}
	if s.lesson != nil {
		err = m.lesson(c, &s, f)
	} else {
		err = m.stretch(c, &s, f)
	}
	if err != nil {
		return err
	}
	switch err := f.Validate(); {
	case errors.Is(err, picture.ErrTooLate):
		return usage("the film would end at %w", err)
	case err != nil:
		return usage("%w", named(err, file))
	}
	if err := writable(m.subtitles); err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(c.Context(), endings()...)
	defer stop()
	tell, clear := progressLine(c.ErrOrStderr(), f.Frames())
	cues, err := m.write(ctx, f, kind, tell)
	clear()
	switch {
	case err != nil && ctx.Err() != nil: // whatever broke first
		return errors.New("interrupted; no film was written")
	case err != nil || m.subtitles == "":
		return err
	}
	return writeAside(m.subtitles, func(w io.Writer) error { return film.WriteVTT(w, cues) })
}

func (m *filming) write(ctx context.Context, f *film.Film, kind string, tell func(int)) (cues []film.Cue, err error) {
	into := func(write func(context.Context, io.Writer, func(int)) ([]film.Cue, error)) func(string) error {
		return func(part string) error {
			w, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
			if err != nil {
				return err
			}
			return errors.Join(fill(w, func(w io.Writer) (err error) { cues, err = write(ctx, w, tell); return err }), w.Close())
		}
	}
	switch kind {
	case "gif":
		err = wholeOrNot(m.output, into(f.WriteGIF))
		return cues, err
	case "png":
		err = wholeOrNot(m.output, into(f.WritePNG))
		return cues, err
	case "":
		if _, err := os.Stat(m.output); err == nil {
			return nil, fmt.Errorf("%s is there already; give a folder that is not", m.output)
		}
		err = wholeOrNot(m.output, func(part string) (err error) {
			if err = os.Mkdir(part, 0o777); err == nil {
				cues, err = f.WriteFrames(ctx, part, tell)
			}
			return err
		})
		return cues, err
	}
	ffmpeg, err := film.FindFFmpeg()
	if err != nil {
		return nil, err
	}
	err = wholeOrNot(m.output, func(part string) (err error) {
		cues, err = f.WriteVideo(ctx, ffmpeg, kind, part, tell)
		return err
	})
	return cues, err
}

// wholeOrNot has a file or folder made beside the one named, and gives it that name once it is whole.
func wholeOrNot(name string, make func(part string) error) error {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is no file; give a file", name)
	}
	part := name + ".part"
	if _, err := os.Lstat(part); err == nil {
		return fmt.Errorf("%s is in the way: another run is writing it, or left it when it was killed; remove it", part)
	}
	err := make(part)
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		err = unwritten(name, part, err)
		if _, missing := os.Lstat(part); missing == nil {
			err = errors.Join(err, os.RemoveAll(part))
		}
	}
	return err
}

// progressLine returns what keeps a line on a terminal that shows how many of n frames are done and how long the others
// will take, and what clears it; both do nothing where w is no terminal.
func progressLine(w io.Writer, n int) (tell func(int), clear func()) {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(int) {}, func() {}
	}
	start, last := time.Now(), time.Time{}
	tell = func(k int) {
		now := time.Now()
		if now.Sub(last) < 200*time.Millisecond {
			return
		}
		last = now
		fmt.Fprintf(f, "\r%s", progress(k, n, now.Sub(start)))
	}
	return tell, func() { fmt.Fprintf(f, "\r%*s\r", columns-1, "") }
}

// progress tells of k of n frames that took so long.
func progress(k, n int, took time.Duration) string {
	const long = 30
	done := k * long / n
	left := time.Duration(float64(took) / float64(k) * float64(n-k)).Round(time.Second)
	line := fmt.Sprintf("film [%s%s] %d of %d frames, %v left", strings.Repeat("=", done), strings.Repeat(" ", long-done), k, n, left)
	return fmt.Sprintf("%-*s", columns-1, line)
}
