package lesson_test

import (
	"strings"
	"testing"

	"sextant/assets"
	"sextant/inverter/file"
	"sextant/inverter/file/filetest"
	"sextant/render/lesson"
)

// quick reports whether a lesson runs only what is built in, changed in words and switches at most: what numbers
// would make of it may take long.
func quick(data []byte) bool {
	d, wrong := file.Parse("x.toml", data)
	if wrong != nil {
		return true
	}
	scenes, _ := d.Values["scene"].([]any)
	return len(scenes) <= 4 && same(d.Values)
}

func same(values map[string]any) bool {
	for key, v := range values {
		switch v := v.(type) {
		case map[string]any:
			if !same(v) || key == "set" && (v["run"] != nil || v["shaft"] != nil || v["machine"] != nil) {
				return false
			}
		case []any:
			for _, x := range v {
				if t, ok := x.(map[string]any); ok && !same(t) {
					return false
				}
			}
		case string:
			switch {
			case key == "scenario" && (v != "trainer-120" && strings.ContainsAny(v, "./")):
				return false
			case strings.ContainsAny(v, "0123456789") && strings.Contains("frequency carrier_ratio bandwidth dead_time ramp", key):
				return false
			}
		case int64, float64:
			if strings.Contains("frequency carrier_ratio bandwidth dead_time ramp", key) {
				return false
			}
		}
	}
	return true
}

// Whatever a file holds, reading it ends in a lesson whose questions have right answers, or in findings, each with
// its line and on one line.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(strings.ReplaceAll(good, `set.shaft = { speed = "1200 rpm" }`, "")))
	f.Add([]byte("title = \"t\"\nabout = \"a\"\n[[scene]]\ntitle = \"s\"\ncaption = \"{end.u_a size / 2 | A}\"\nscenario = \"passive-rl\"\nprobe = [\"clamp\"]\n"))
	f.Add([]byte("title = 3\n[[scene]]\ncaption = \"{\"\nscenario = \"trainer-120\"\n[[scene.question]]\nask = \"}\"\nchoice = [{ say = \"\", when = [\"1 < 2\", \"x ~ y\"] }]\n"))
	for _, name := range []string{"two-numberings", "lead-lag"} {
		data, err := assets.Files.ReadFile("lessons/" + name + ".toml")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if !quick(data) {
			return
		}
		l, err := lesson.Load("x.toml", data)
		if err != nil {
			filetest.Refused(t, err)
			return
		}
		for _, s := range l.Scenes {
			if len(s.Moments) == 0 || s.Moments[0].Words == "" {
				t.Errorf("a scene without words: %+v", s)
			}
			for _, q := range s.Questions {
				if strings.Contains(q.Answer(), "NaN") || strings.Contains(q.Answer(), "Inf") || len(q.Choices) > 0 && q.Right >= len(q.Choices) {
					t.Errorf("%+v", q)
				}
				q.Offers()
			}
		}
	})
}
