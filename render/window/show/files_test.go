package show

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/lesson"
)

// drawer is files in memory.
type drawer struct {
	names []string
	held  map[string][]byte
	from  string // of the last that was saved
	full  bool
}

func (d *drawer) Save(name, from string, data []byte) (string, error) {
	if d.full {
		return "", errors.New("the disk is full")
	}
	d.from = from
	d.held["saved/"+name] = data
	return "saved/" + name, nil
}
func (d *drawer) Recent() []string { return d.names }
func (d *drawer) Remember(name string) error {
	d.names = append([]string{name}, d.names...)
	return nil
}
func (d *drawer) Read(name string) ([]byte, error) {
	data, ok := d.held[name]
	if !ok {
		return nil, errors.New("there is no such file")
	}
	return data, nil
}

// What was changed by hand is saved, can be opened again from the recent files, and is what it was.
func TestSaveAndOpenAgain(t *testing.T) {
	s := open(t, "trainer-pwm")
	d := &drawer{held: map[string][]byte{}}
	s.Do(Save)
	if !strings.Contains(s.Message(), "othing can be saved") {
		t.Errorf("without files: %q", s.Message())
	}
	s.SetFiles(d)
	s.Do(SupplyUp)
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.W})
	watch(s, 0.5)
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.W})
	s.Press(render.Part{Kind: render.WirePart, Phase: inverter.V})
	watch(s, 0.5)
	volts := s.drive.Scenario().Supply.Voltage
	s.Do(Save)
	if !strings.Contains(s.Message(), "Saved: saved/trainer-pwm.toml") {
		t.Fatalf("message %q", s.Message())
	}
	kept, err := scenario.Load("kept.toml", d.held["saved/trainer-pwm.toml"])
	if err != nil {
		t.Fatal(err)
	}
	if len(kept.Faults) != 1 || kept.Faults[0].Kind != drive.PhaseOpen || kept.Faults[0].Phase != inverter.V || kept.Faults[0].Time != 0 || kept.Supply.Voltage != volts {
		t.Errorf("kept are %g V and %+v", kept.Supply.Voltage, kept.Faults)
	}
	s.Do(FilePanel)
	size := [2]float64{1280, 720}
	press(t, s, size, fileWish(1)) // the other choice
	if s.Scenario() != "passive-rl" || s.panel != None {
		t.Errorf("opened %s", s.Scenario())
	}
	s.Do(FilePanel)
	press(t, s, size, fileWish(2)) // the recent file, behind both choices
	if s.Scenario() != "saved/trainer-pwm.toml" || s.drive.Scenario().Supply.Voltage != volts || math.Abs(s.now().Current[inverter.V]) > 1e-9 {
		t.Errorf("opened %s: %q", s.Scenario(), s.Message())
	}
	if words := wordsOn(s, size); strings.Contains(words, "saved/trainer") {
		t.Error("the strip shows the folder")
	}
	if s.Do(Save); d.from != "saved/trainer-pwm.toml" {
		t.Errorf("saved beside %q", d.from)
	}
	d.full = true
	if s.Do(Save); !strings.Contains(s.Message(), "cannot be saved: the disk is full") {
		t.Errorf("message %q", s.Message())
	}
	d.names = []string{"saved/gone.toml"}
	s.Do(FilePanel)
	press(t, s, size, fileWish(len(s.choices)))
	if !strings.Contains(s.Message(), "there is no such file") {
		t.Errorf("message %q", s.Message())
	}
}

// An exercise is not saved, which would tell its fault; answers are.
func TestSaveInALesson(t *testing.T) {
	l, err := lesson.Open("guess-lead")
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, "trainer-pwm")
	d := &drawer{held: map[string][]byte{}}
	s.SetFiles(d)
	if s.Do(SaveAnswers); len(d.held) != 0 {
		t.Error("answers were saved before there are any")
	}
	s.Play(l)
	s.Do(NextScene)
	s.Do(Choice1)
	s.Do(SaveAnswers)
	if text := string(d.held["saved/answers.csv"]); !strings.HasPrefix(text, "lesson,scene,question,answer,correct,right\n") || strings.Count(text, "\n") != 2 {
		t.Errorf("answers are %q", text)
	}
	for s.lecture.player.Index() < 1 {
		s.Do(NextScene)
	}
	if s.Do(Save); len(d.held) != 1 || slices.Contains(d.names, "saved/guess-lead.toml") {
		t.Errorf("the exercise was saved: %q", s.Message())
	}
}

// What is shown is a scenario of its own once a hand has changed it, and until that is taken back.
func TestOwn(t *testing.T) {
	for _, name := range scenario.Names() {
		s := open(t, name)
		watch(s, 0.1)
		if own := s.Own(); own != nil {
			t.Errorf("untouched, %s has become\n%s", name, own)
		}
		s.Do(SupplyUp)
		sc, err := scenario.Load("own.toml", s.Own())
		if err != nil || sc.Supply.Voltage <= s.choices[0].Scenario.Supply.Voltage {
			t.Errorf("%s: %g V, %v", name, sc.Supply.Voltage, err)
		}
		s.Do(Undo)
		if s.Own() != nil {
			t.Errorf("taken back, %s is not what it was", name)
		}
	}
}

// A dialog is a drawer that asks, and gets picked what is next.
type dialog struct {
	drawer
	asked int
	next  []string
}

func (d *dialog) Choose() { d.asked++ }
func (d *dialog) Chosen() (string, []byte, bool, error) {
	if len(d.next) == 0 {
		return "", nil, false, nil
	}
	name := d.next[0]
	d.next = d.next[1:]
	data, err := d.Read(name)
	return name, data, true, err
}

// Where there is a dialog, a file that is picked in it is shown once it has come; one that cannot be read is not.
func TestOpenByDialog(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(OpenFile)
	if s.Panel() != "files" {
		t.Errorf("without a dialog the panel %q opens", s.Panel())
	}
	d := &dialog{drawer: drawer{held: map[string][]byte{"own.toml": bytes.Replace(s.saved(), []byte(s.choices[0].Scenario.Title), []byte("My own"), 1)}}}
	s.SetFiles(d)
	s.Do(OpenFile)
	s.Tick(0.01)
	if d.asked != 1 || s.Scenario() != "trainer-pwm" {
		t.Errorf("asked %d times, and before anything was picked %s is shown", d.asked, s.Scenario())
	}
	d.next = []string{"gone.toml", "own.toml"}
	s.Tick(0.01)
	if s.Scenario() != "trainer-pwm" || !strings.Contains(s.Message(), "one.toml: there is no such file") {
		t.Errorf("a file that is gone: %s, %q", s.Scenario(), s.Message())
	}
	s.Tick(0.01)
	if s.Scenario() != "own.toml" || s.Panel() != "" || !strings.Contains(s.Message(), "My own") {
		t.Errorf("picked own.toml: %s, panel %q, %q", s.Scenario(), s.Panel(), s.Message())
	}
}
