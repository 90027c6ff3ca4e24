package show

// Past returns how far back the picture looks, in s; 0 in the present.
func (s *Show) Past() float64 { return s.drive.Time() - s.time() }

// Panel names what is open over the picture; "" for nothing.
func (s *Show) Panel() string {
	if s.help {
		return "help"
	}
	return map[Wish]string{Dials: "dials", Faults: "faults", Heat: "heat", Lesson: "lesson", Lessons: "lessons", TapeLanes: "tape", FilePanel: "files"}[s.panel]
}

// Steps returns how many changes can be taken back, and how many can be made again.
func (s *Show) Steps() (undo, redo int) { return len(s.steps), len(s.undone) }

// Hiding reports whether the lesson's present scene keeps its faults to itself.
func (s *Show) Hiding() bool { return s.lecture.player != nil && s.lecture.player.Scene().Hidden }

// Score returns how many answers were given to questions of lessons, and how many were right.
func (s *Show) Score() (answers, right int) {
	for _, r := range s.Results() {
		answers++
		if r.Right {
			right++
		}
	}
	return answers, right
}
