package lesson_test

import (
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/lesson"
)

const good = `title = "t"
about = "a"
[[scene]]
title = "s"
name = "first"
scenario = "trainer-six-step"
set.shaft = { speed = "1200 rpm" }
focus = "bridge"
point = "gate U+"
pace = "2 ms"
caption = "at {shaft.speed}: {machine.speed_mean_rpm / 2 | rpm}"
[[scene.change]]
after = "5 ms"
set.gating = { pattern = "all-off" }
say = "off"
[[scene.question]]
ask = "how fast?"
quantity = "first/machine.speed_mean_rpm"
because = "so"
[[scene.question]]
ask = "which?"
because = "so"
choice = [
  { say = "a", when = "first/machine.speed_mean_rpm > 0" },
  { say = "b", when = ["first/machine.speed_mean_rpm < 0", "given.supply_v ~ 48"] },
]
`

func TestLoad(t *testing.T) {
	l, err := lesson.Load("x.toml", []byte(good))
	if err != nil {
		t.Fatal(err)
	}
	s := l.Scenes[0]
	if want := "at 1200 rpm: 600 rpm"; s.Moments[0].Words != want {
		t.Errorf("%q, want %q", s.Moments[0].Words, want)
	}
	if s.Focus != render.OnBridge || s.Point.Kind != render.GatePart || s.Pace != 2e-3 || s.Labels != inverter.Names || s.Moments[1].After != 5e-3 {
		t.Errorf("%+v", s)
	}
	if q := s.Questions[0]; q.Answer() != "1200 rpm" {
		t.Errorf("%+v", q)
	}
}

func TestLabels(t *testing.T) {
	l, err := lesson.Load("x.toml", []byte(strings.Replace(good, `pace = "2 ms"`, `labels = "firing"`, 1)))
	if err != nil || l.Scenes[0].Labels != inverter.Firing {
		t.Errorf("%+v, %v", l, err)
	}
}

func TestFindings(t *testing.T) {
	for _, tt := range []struct{ old, fresh, says string }{
		{`title = "t"`, ``, "x.toml:1: title: is missing"},
		{`focus = "bridge"`, `focus = "brigde"`, "x.toml:8: scene.focus: "},
		{`point = "gate U+"`, `point = "gate X+"`, "x.toml:9: scene.point: "},
		{`pace = "2 ms"`, `labels = "fired"`, "x.toml:10: scene.labels: \"fired\" is not a numbering; numberings are names, rows, firing"},
		{`pace = "2 ms"`, `pace = "2 V"`, "x.toml:10: scene.pace: "},
		{`pace = "2 ms"`, `pcae = "2 ms"`, "x.toml:10: scene.pcae: no such key; did you mean pace?"},
		{`scenario = "trainer-six-step"`, `scenario = "trainer-six-stp"`, "x.toml:6: scene.scenario: there is no such file"},
		{`speed = "1200 rpm"`, `speed = "1200"`, "x.toml:7: scene.set.shaft.speed: "},
		{`speed = "1200 rpm"`, `sped = "1200 rpm"`, "x.toml:7: scene.set.shaft.sped: no such key"},
		{`pattern = "all-off"`, `pattern = "al-off"`, "x.toml:14: scene.change.set.gating.pattern: "},
		{`after = "5 ms"`, ``, "scene.change.after: is missing"},
		{`{shaft.speed}`, `{machine.torque_men_nm}`, "x.toml:11: scene.caption: the run has no figure \"machine.torque_men_nm\"; did you mean machine.torque_mean_nm?"},
		{`{shaft.speed}`, `{shaft.speed`, "x.toml:11: scene.caption: "},
		{`{shaft.speed}`, `{second/end.u_a}`, "x.toml:11: scene.caption: nothing in this lesson is called \"second\""},
		{`quantity = "first/machine.speed_mean_rpm"`, `quantity = "given.supply_v / end.u_a"`, "x.toml:18: scene.question.quantity: "},
		{`/ 2 | rpm`, `/ 2 | krpm`, "x.toml:11: scene.caption: \"krpm\" has a prefix; give rpm, "},
		{`/ 2 | rpm`, `/ 2 | rpm size`, "x.toml:11: scene.caption: \"rpm size\" is no unit; size stands before the |"},
		{`quantity = "first/machine.speed_mean_rpm"`, `quantity = "supply.power_w"
unit = "kW"`, "x.toml:19: scene.question.unit: \"kW\" has a prefix; give W"},
		{`quantity = "first/machine.speed_mean_rpm"`, ``, "scene.question.choice: a question has either"},
		{`speed_mean_rpm > 0`, `speed_mean_rpm < 0`, "x.toml:23: scene.question.choice: in the run 0 of 2 are right; one must be"},
		{`"first/machine.speed_mean_rpm < 0", `, ``, "x.toml:23: scene.question.choice: in the run 2 of 2 are right"},
		{`when = "first/machine.speed_mean_rpm > 0"`, `when = "first/machine.speed_mean_rpm"`, "x.toml:24: scene.question.choice.when: "},
		{`choice = [`, `choice = [` + strings.Repeat("\n  { say = \"c\", when = \"given.supply_v < 0\" },", 25), "x.toml:23: scene.question.choice: there are 27; give 2 to 26"},
	} {
		text := strings.Replace(good, tt.old, tt.fresh, 1)
		if text == good {
			t.Fatalf("nothing was changed by %q", tt.old)
		}
		_, err := lesson.Load("x.toml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s:\n%v\nwant %s", tt.fresh, err, tt.says)
		}
	}
	if _, err := lesson.Load("x.toml", []byte("scene = 3\n")); err == nil || !strings.Contains(err.Error(), "x.toml:1: scene: there may be many") {
		t.Errorf("%v", err)
	}
}
