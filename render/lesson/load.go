package lesson

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor/drive"
	"sextant/render"
)

// mostStrides is how many steps from event to event all runs of a lesson may take together, so that none keeps
// whoever opens it waiting; a scene of the usual length takes some thousand.
const mostStrides = 2_000_000

// Load reads a lesson from TOML and works it out: runs its scenarios, fills in figures, and finds which answers are
// right. An error is [file.Findings]: all that is wrong, each with its line.
func Load(name string, data []byte) (*Lesson, error) { return load(name, data, mostStrides) }

// load is Load for runs that take no more than so many strides.
func load(name string, data []byte, strides int) (*Lesson, error) {
	d, wrong := file.Parse(name, data)
	if wrong != nil {
		return nil, file.Findings{wrong}
	}
	r := reader{doc: d, named: map[string]*moment{}, runs: map[string]figures{}, strides: strides}
	l := r.lesson(&table{r: &r, values: d.Values})
	if len(r.findings) > 0 {
		return nil, r.findings.Sorted()
	}
	return l, nil
}

// reader reads a lesson's file.
type reader struct {
	doc      file.Document
	findings file.Findings
	named    map[string]*moment
	runs     map[string]figures // by scenario
	strides  int                // left to take
}

func (r *reader) report(line int, key string, err error) {
	r.findings = append(r.findings, &file.Finding{File: r.doc.File, Line: line, Key: key, Err: err})
}

// A moment is what a Moment comes from.
type moment struct {
	*table
	name     string
	title    string
	found    string // scenario's file
	keys     keys
	scenario drive.Scenario
	whole    bool // the scenario is right
	after    float64
	words    string // key of them
}

func (r *reader) lesson(t *table) *Lesson {
	l := &Lesson{Name: r.doc.File, Title: t.needed("title"), About: t.needed("about")}
	var drafts []draft
	var base string
	for _, s := range t.tables("scene") {
		scene, d := s.scene(&base)
		l.Scenes, drafts = append(l.Scenes, scene), append(drafts, d)
	}
	if len(drafts) == 0 {
		t.wrong("scene", errors.New("is missing; a lesson has at least one [[scene]]"))
	}
	t.done()
	if len(r.findings) > 0 {
		return nil // figures of what is wrong would be wrong too
	}
	for i := range drafts {
		if drafts[i].work(&l.Scenes[i]); r.strides < 0 {
			break // and once is enough to say so
		}
	}
	return l
}

// scene reads a scene; base is the scenario of the one before, and becomes this one's.
func (t *table) scene(base *string) (Scene, draft) {
	s := Scene{
		Title: t.needed("title"), Note: t.prose("note"), Hidden: t.flag("hidden"),
		Pace: t.positive("pace", si.Time, 0), Duration: t.positive("duration", si.Time, 20),
	}
	if s.Pace > 1 {
		t.wrong("pace", errors.New("is more than real time; give at most \"1 s\" in a second"))
	}
	if v, ok := t.value("focus"); ok {
		word, err := file.Prose(v)
		if err == nil {
			err = s.Focus.UnmarshalText([]byte(word))
		}
		if err != nil {
			t.wrong("focus", err)
		}
	}
	if word := t.prose("labels"); word != "" {
		if err := s.Labels.UnmarshalText([]byte(word)); err != nil {
			t.wrong("labels", err)
		}
	}
	if word := t.prose("point"); word != "" {
		var err error
		if s.Point, err = part(word); err != nil {
			t.wrong("point", err)
		}
	}
	if name := t.prose("scenario"); name != "" {
		*base = name
	}
	d := draft{table: t, probes: t.strings("probe")}
	for _, p := range d.probes {
		if _, ok := probes[p]; !ok {
			t.wrong("probe", file.Unknown("probe", p, probeNames))
		}
	}
	first := t.first(*base)
	d.moments = append(d.moments, first)
	for _, c := range t.tables("change") {
		d.moments = append(d.moments, c.change(d.moments[len(d.moments)-1]))
	}
	d.questions = t.tables("question")
	t.done()
	return s, d
}

// first reads how a scene begins, with the scenario of that name.
func (t *table) first(base string) *moment {
	m := &moment{table: t, words: "caption", title: t.prose("title")}
	t.needed("caption")
	set, without := t.table("set"), t.strings("without")
	m.call(t.prose("name"))
	if base == "" {
		t.wrong("scenario", errors.New("is missing; give the name or the file of one, which scenes behind this one share"))
		return m
	}
	found, data, err := findScenario(t.r.doc.File, base)
	if err != nil {
		t.wrong("scenario", err)
		return m
	}
	d, wrong := file.Parse(found, data)
	if wrong != nil {
		t.wrong("scenario", wrong)
		return m
	}
	m.found = found
	m.fix(keys(d.Values), set, without)
	return m
}

// change reads a change from the moment before.
func (t *table) change(before *moment) *moment {
	m := &moment{table: t, words: "say", found: before.found, title: before.title}
	t.needed("say")
	m.call(t.prose("name"))
	m.after = t.positive("after", si.Time, math.NaN())
	set, without := t.table("set"), t.strings("without")
	switch _, given := t.values["after"]; {
	case !given:
		t.wrong("after", errors.New("is missing; give the drive's time since the scene began, like \"20 ms\""))
	case m.after <= before.after:
		t.wrong("after", errors.New("is not behind the change before it"))
	}
	if before.whole {
		m.fix(before.keys, set, without)
	}
	t.done()
	return m
}

// fix makes the moment's scenario.
func (m *moment) fix(from keys, set *table, without []string) {
	for _, key := range without {
		if !from.has(key) {
			m.wrong("without", fmt.Errorf("%s is not in the scenario, so there is nothing to leave out", key))
		}
	}
	m.keys = from.with(set, without)
	m.keys["title"] = m.title // that of the file may tell what the lesson asks
	m.scenario, m.whole = m.table.scenario(m.found, m.keys)
}

// call gives the moment the name by which figures of it can be had elsewhere.
func (m *moment) call(name string) {
	switch {
	case name == "":
	case strings.ContainsAny(name, "/ ."):
		m.wrong("name", errors.New("holds a blank, a dot or a slash; give one word"))
	case m.r.named[name] != nil:
		m.wrong("name", fmt.Errorf("%q is another's already", name))
	default:
		m.name = name
		m.r.named[name] = m
	}
}

// part reads a part to point at: a switch (its device), "gate U+", "diode U+", a phase (its wire), "supply", "link" or
// "rotor".
func part(word string) (p render.Part, err error) {
	names := map[string]render.PartKind{"supply": render.SupplyPart, "link": render.LinkPart, "rotor": render.RotorPart}
	if kind, ok := names[word]; ok {
		return render.Part{Kind: kind}, nil
	}
	if p.Phase.UnmarshalText([]byte(word)) == nil {
		p.Kind = render.WirePart
		return p, nil
	}
	p.Kind = render.DevicePart
	kind, at, two := strings.Cut(word, " ")
	switch {
	case !two:
		at = kind
	case kind == "gate":
		p.Kind = render.GatePart
	case kind == "diode":
		p.Kind = render.DiodePart
	}
	if two && !slices.Contains([]string{"gate", "diode"}, kind) || p.Switch.UnmarshalText([]byte(at)) != nil {
		return p, fmt.Errorf("%q is no part; parts are a switch, like U+ or \"gate U+\" or \"diode U+\", a phase, supply, link, rotor", word)
	}
	return p, nil
}
