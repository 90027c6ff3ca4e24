package lesson_test

import (
	"strings"
	"testing"

	"sextant/render/lesson"
)

func TestPlayer(t *testing.T) {
	l, err := lesson.Load("x.toml", []byte(good+"[[scene]]\ntitle = \"z\"\ncaption = \"c\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	p := lesson.New(l)
	if moved, _ := p.Back(); moved || p.Question() != nil {
		t.Error("something lies before the first scene")
	}
	if _, err := p.Answer("1"); err == nil {
		t.Error("an answer without a question")
	}
	if after, ok := p.Coming(); !ok || after != 5e-3 {
		t.Errorf("the change comes after %g s: %t", after, ok)
	}
	if m := p.Change(); m.Words != "off" || m != p.Moment() {
		t.Errorf("%+v", m)
	}
	if after, ok := p.Coming(); ok {
		t.Errorf("another change comes after %g s", after)
	}
	p.Next()
	for _, text := range []string{"", "fast", "1200 V", "NaN"} {
		if v, err := p.Answer(text); err == nil {
			t.Errorf("%q is judged %+v", text, v)
		}
	}
	if v, err := p.Answer("1190 rpm"); err != nil || !v.Right || p.Verdict() != v {
		t.Errorf("%+v, %v", v, err)
	}
	p.Next()
	if p.Verdict() != nil {
		t.Error("a verdict before the answer")
	}
	for _, text := range []string{"0", "3", "a"} {
		if v, err := p.Answer(text); err == nil {
			t.Errorf("%q is judged %+v", text, v)
		}
	}
	if v, err := p.Answer("2"); err != nil || v.Right || v.Correct != "a" {
		t.Errorf("%+v, %v", v, err)
	}
	if _, begun := p.Next(); !begun || p.Index() != 1 || p.Moment().Words != "c" {
		t.Error("the second scene does not begin")
	}
	if moved, _ := p.Next(); moved {
		t.Error("something lies behind the last scene")
	}
	if _, begun := p.Back(); !begun || p.Index() != 0 || p.Moment().Words == "off" {
		t.Error("the first scene does not begin again")
	}
	var b strings.Builder
	if err := lesson.WriteResults(&b, p.Results()); err != nil {
		t.Fatal(err)
	}
	want := "lesson,scene,question,answer,correct,right\nt,s,how fast?,1190 rpm,1200 rpm,yes\nt,s,which?,b,a,no\n"
	if b.String() != want {
		t.Errorf("%s\nwant\n%s", b.String(), want)
	}
}
