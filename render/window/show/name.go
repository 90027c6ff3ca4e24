package show

import "unicode"

// mostLetters is how long a name is at most that is typed for a file.
const mostLetters = 40

// A naming is the name under which a scenario is to be saved, while it is typed.
type naming struct {
	on   bool
	text []rune
}

// Typing reports whether a name is being typed, so that letters are to be handed to [Show.Type] and are no wishes.
func (s *Show) Typing() bool { return s.naming.on }

// Type adds a letter to the name that is typed. What no file's name can hold is left out when it is saved.
func (s *Show) Type(r rune) {
	if n := &s.naming; n.on && unicode.IsPrint(r) && len(n.text) < mostLetters {
		n.text, s.changed = append(n.text, r), true
	}
}

// Erase takes the last letter back.
func (s *Show) Erase() {
	if n := &s.naming; n.on && len(n.text) > 0 {
		n.text, s.changed = n.text[:len(n.text)-1], true
	}
}

// startNaming begins to ask for a name, with that which the scenario has.
func (s *Show) startNaming() {
	switch {
	case s.Hiding():
		s.say(noSaving)
		return
	case s.files == nil:
		s.Refuse(errNoFiles)
		return
	}
	name, _ := s.ownName()
	s.panel, s.naming = FilePanel, naming{on: true, text: []rune(name)}
}

// nameField is where a name is typed.
func (s *Show) nameField() []piece {
	return []piece{
		{width: 7, caption: "its name, a number behind it where there is such a file", text: string(s.naming.text) + "|"},
		{wish: Save, width: 1.6, caption: "enter", text: "save"},
		{wish: SaveAs, width: 1.9, caption: "esc", text: "leave it"},
	}
}
