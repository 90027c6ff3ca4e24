package show

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render/lesson"
)

// Files is where a show keeps what its spectator wants kept, and finds it again.
type Files interface {
	// Save writes data to a new file of about that name, beside the file from where that is not empty, and returns
	// where it lies.
	Save(name, from string, data []byte) (where string, err error)
	// Recent lists the files that were opened or saved last, the latest first.
	Recent() []string
	// Remember puts a file first among the recent ones.
	Remember(name string) error
	// Read returns what a file holds.
	Read(name string) ([]byte, error)
}

// A Chooser is Files whose user picks one in a dialog of the browser's, which takes its time.
type Chooser interface {
	Files
	// Choose asks the user for a file.
	Choose()
	// Chosen returns a file that was picked since it was last asked, or why it cannot be read.
	Chosen() (name string, data []byte, ok bool, err error)
}

// chooseFile asks for a file where there is a dialog for it, else it opens the panel of files.
func (s *Show) chooseFile() {
	if c, ok := s.files.(Chooser); ok {
		c.Choose()
		return
	}
	s.panel = other(s.panel, FilePanel)
}

// takeChosen loads a file that was picked.
func (s *Show) takeChosen() {
	c, ok := s.files.(Chooser)
	if !ok {
		return
	}
	switch name, data, ok, err := c.Chosen(); {
	case !ok:
	case err != nil:
		s.Refuse(fmt.Errorf("%s: %w", name, err))
	case s.load(name, data):
		s.panel = None
		if s.lecture.player != nil {
			s.panel = Lesson
		}
	}
}

// SetFiles gives the show files; without, nothing can be saved.
func (s *Show) SetFiles(f Files) { s.files = f }

// mostRecent is how many recent files are offered.
const mostRecent = 6

// fileWish returns the wish to open the k-th of the choices; behind those, of the recent files.
func fileWish(k int) Wish { return firstFile + Wish(k) }

// openFile grants a wish of the panel of files.
func (s *Show) openFile(k int) {
	if k < len(s.choices) {
		if err := s.choose(k); err != nil {
			s.say(sentence(err))
			return
		}
		s.panel = None
		s.tell(title(&s.choices[k]))
		return
	}
	if k -= len(s.choices); k < len(s.recent()) {
		s.panel = None
		s.open(s.recent()[k])
	}
}

// open reads a scenario's or a lesson's file and shows it.
func (s *Show) open(name string) {
	data, err := s.files.Read(name)
	if err != nil {
		s.Refuse(fmt.Errorf("%s: %w", name, err))
		return
	}
	if s.load(name, data) {
		s.recall(name)
	}
}

func (s *Show) recall(name string) {
	if err := s.files.Remember(name); err != nil {
		s.say(s.message + " " + sentence(err))
	}
}

// recent returns the recent files that are not among the choices.
func (s *Show) recent() (names []string) {
	if s.files == nil {
		return nil
	}
	for _, name := range s.files.Recent() {
		known := false
		for k := range s.choices {
			known = known || s.choices[k].Name == name
		}
		if !known && len(names) < mostRecent {
			names = append(names, name)
		}
	}
	return names
}

// noSaving is said while an exercise hides its fault.
const noSaving = "This exercise hides its fault, and a saved scenario would tell it. Save after the exercise."

var errNoFiles = errors.New("nothing can be saved here")

// save writes the scenario as it is now, with what is broken now broken from the start, under the name that was typed, if
// one was.
func (s *Show) save(named naming) {
	if s.Hiding() {
		s.say(noSaving)
		return
	}
	name, from := s.ownName()
	if named.on {
		name = strings.TrimSuffix(strings.TrimSpace(string(named.text)), ".toml")
	}
	s.write(plainName(name)+".toml", from, s.saved(), "scenario")
}

// ownName returns the scenario's name without a folder, and the file that it is from, if it is.
func (s *Show) ownName() (name, from string) {
	if name = s.Scenario(); isFile(name) {
		return strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)), name
	}
	return name, ""
}

// saved returns the scenario as a file: as it is now, with what is broken now broken from the start.
func (s *Show) saved() []byte {
	sc, t := s.drive.Scenario(), s.drive.Time()
	var faults []drive.Fault
	for _, f := range sc.Faults {
		if f.Until != 0 && f.Until <= t {
			continue
		}
		f.Time = max(f.Time-t, 0)
		if f.Until != 0 {
			f.Until -= t
		}
		faults = append(faults, f)
	}
	sc.Faults = faults
	return scenario.TOML(sc)
}

// Own returns the scenario as a file, as [Show.saved] does, where it is not a built-in one as that stands; else, and in a
// lesson, nil.
func (s *Show) Own() []byte {
	c := &s.choices[s.chosen]
	if s.lecture.player != nil || !isFile(c.Name) && bytes.Equal(scenario.TOML(s.drive.Scenario()), scenario.TOML(c.Scenario)) {
		return nil
	}
	return s.saved()
}

// saveAnswers writes what was answered in lessons.
func (s *Show) saveAnswers() {
	if len(s.Results()) == 0 {
		s.say("No question of a lesson has been answered yet; press b for a lesson.")
		return
	}
	data, err := s.answers()
	if err != nil {
		s.say(sentence(err))
		return
	}
	s.write("answers.csv", "", data, "answers")
}

// answers returns what was answered in lessons as CSV.
func (s *Show) answers() ([]byte, error) {
	var b bytes.Buffer
	err := lesson.WriteResults(&b, s.Results())
	return b.Bytes(), err
}

func (s *Show) write(name, from string, data []byte, what string) {
	if s.files == nil {
		s.Refuse(errNoFiles)
		return
	}
	where, err := s.files.Save(name, from, data)
	if err != nil {
		s.Refuse(fmt.Errorf("the %s cannot be saved: %w", what, err))
		return
	}
	s.say(fmt.Sprintf("Saved: %s.", where))
	if what == "scenario" {
		s.recall(where)
	}
}

// isFile reports whether a choice is a file, not built in: built-in names have neither a dot nor a slash.
func isFile(name string) bool { return strings.ContainsAny(name, `./\`) }

// plainName returns name as it can be a file's everywhere.
func plainName(name string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '_':
			return r
		case r == ' ', r == '.':
			return '-'
		}
		return -1
	}, name)
	if plain == "" {
		return "scenario"
	}
	return plain
}

// fileButtons returns what the panel of files holds.
func (s *Show) fileButtons() [][]piece {
	var groups [][]piece
	save := []piece{{wish: Save, width: 3.4, text: "save scenario"}, {wish: SaveAs, width: 2, text: "save as"}}
	if _, ok := s.files.(Chooser); ok { // whose dialog, or list of downloads, asks for names
		groups = append(groups, []piece{{wish: OpenFile, width: 3.4, text: "open a file"}})
		save = save[:1]
	}
	if s.naming.on {
		groups = append(groups, s.nameField())
	}
	groups = append(groups, append(save, piece{wish: SaveAnswers, width: 3.2, text: "save answers"}, piece{wish: Dismiss, width: 1.6, text: "close"}))
	for k := range s.choices {
		groups = append(groups, []piece{{wish: fileWish(k), width: 3.7, text: shortName(s.choices[k].Name), on: k == s.chosen && s.lecture.player == nil}})
	}
	for k, name := range s.recent() {
		groups = append(groups, []piece{{wish: fileWish(len(s.choices) + k), width: 3.7, caption: "recent", text: shortName(name)}})
	}
	return groups
}

// shortName returns the name of a choice without its folder.
func shortName(name string) string { return filepath.Base(name) }
