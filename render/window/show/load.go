package show

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"sextant/inverter/file"
	"sextant/motor/scenario"
	"sextant/render/lesson"
)

// load reads a scenario's or a lesson's file and shows it, and reports whether it could. What is wrong with it is said,
// and what was shown stays.
func (s *Show) load(name string, data []byte) bool {
	if d, wrong := file.Parse(name, data); wrong == nil && lesson.Is(d) {
		l, err := lesson.Load(name, data)
		if err != nil {
			s.say(findings(err))
			return false
		}
		s.Play(l)
		return true
	}
	sc, err := scenario.Load(name, data)
	if err != nil {
		s.say(findings(err))
		return false
	}
	k := slices.IndexFunc(s.choices, func(c Choice) bool { return isFile(name) && c.Name == name })
	if k < 0 {
		k = len(s.choices)
		s.choices = append(s.choices, Choice{Name: name})
	}
	before := s.choices[k].Scenario
	s.choices[k].Scenario = sc
	if err := s.choose(k); err != nil {
		if s.choices[k].Scenario = before; before.Supply.Voltage == 0 { // there was none
			s.choices = s.choices[:k]
		}
		s.say(sentence(err))
		return false
	}
	s.tell(fmt.Sprintf("Loaded: %s.", strings.TrimSuffix(title(&s.choices[s.chosen]), ".")))
	return true
}

// Refuse says why something that was asked for cannot be had.
func (s *Show) Refuse(err error) { s.say(sentence(err)) }

func title(c *Choice) string {
	if c.Scenario.Title != "" {
		return c.Scenario.Title
	}
	return c.Name
}

// findings returns the first few things that are wrong with a file, one a line.
func findings(err error) string {
	const most = 5
	var all file.Findings
	if !errors.As(err, &all) || len(all) == 0 {
		return sentence(err)
	}
	var lines []string
	for k, f := range all {
		if k == most {
			lines = append(lines, fmt.Sprintf("and %d more", len(all)-most))
			break
		}
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}
