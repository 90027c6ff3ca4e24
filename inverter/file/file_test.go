package file_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"

	"sextant/inverter/file"
	"sextant/inverter/si"
)

const text = "# a remark\n" +
	"title = \"x\"\n" +
	"[heat]\n" +
	"chain = [{ resistance = 1 }, { resistance = 2 }]\n" +
	"[a.b]\n" +
	"c = 1\n" +
	"[[fault]]\n" +
	"kind = \"one\"\n" +
	"[[fault]]\n" +
	"kind = \"two\"\n"

func TestLine(t *testing.T) {
	d, wrong := file.Parse("x.toml", []byte("\ufeff"+text))
	if wrong != nil {
		t.Fatal(wrong)
	}
	for _, tt := range []struct {
		keys []string
		want int
	}{
		{[]string{"title"}, 2},
		{[]string{"heat"}, 3},
		{[]string{"heat", "chain"}, 4},
		{[]string{"heat", "chain", "1", "resistance"}, 4},
		{[]string{"a"}, 5},
		{[]string{"a", "b", "c"}, 6},
		{[]string{"fault", "0", "kind"}, 8},
		{[]string{"fault", "1", "kind"}, 10},
		{[]string{"b"}, 0},
		{nil, 0},
	} {
		if got := d.Line(tt.keys...); got != tt.want {
			t.Errorf("%v stands in line %d, want %d", tt.keys, got, tt.want)
		}
	}
}

func TestLineInNestedArrays(t *testing.T) {
	d, wrong := file.Parse("x.toml", []byte("[[a]]\n[[a.b]]\nc = 1\n[[a.b]]\nc = 2\n[[a]]\n[[a.b]]\nc = 3\n[a.d]\ne.f = 4\n"))
	if wrong != nil {
		t.Fatal(wrong)
	}
	for _, tt := range []struct {
		keys []string
		want int
	}{
		{[]string{"a", "0", "b", "0", "c"}, 3},
		{[]string{"a", "0", "b", "1", "c"}, 5},
		{[]string{"a", "1"}, 6},
		{[]string{"a", "1", "b", "0"}, 7},
		{[]string{"a", "1", "b", "0", "c"}, 8},
		{[]string{"a", "1", "d"}, 9},
		{[]string{"a", "1", "d", "e", "f"}, 10},
	} {
		if got := d.Line(tt.keys...); got != tt.want {
			t.Errorf("%v stands in line %d, want %d", tt.keys, got, tt.want)
		}
	}
	if back, wrong := file.Parse("y.toml", file.Written(d.Values)); wrong != nil || !reflect.DeepEqual(back.Values, d.Values) {
		t.Errorf("%v, %v, want %v", back.Values, wrong, d.Values)
	}
}

func TestSyntax(t *testing.T) {
	_, wrong := file.Parse("x.toml", []byte("a = 1\nb = = 2\n"))
	if wrong == nil || wrong.Line != 2 || wrong.File != "x.toml" {
		t.Errorf("%v", wrong)
	}
}

func TestFindings(t *testing.T) {
	odd := errors.New("is \x1b[31modd\nindeed")
	list := file.Findings{{File: "b", Line: 7, Key: "k", Err: odd}, {File: "a", Err: odd}, {File: "b", Line: 3, Key: "j", Err: odd}}
	if got, want := list.Sorted().Error(), "b:3: j: is  [31modd indeed\nb:7: k: is  [31modd indeed\na: is  [31modd indeed"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if list[0].Line != 7 || list[2].Line != 3 {
		t.Errorf("sorting has moved the findings themselves: %v", list)
	}
	if !errors.Is(list, odd) {
		t.Error("the cause is lost")
	}
}

func TestValues(t *testing.T) {
	for _, value := range []any{"350 V", int64(350), 350.0} {
		if x, err := file.Quantity(value, si.Voltage); x != 350 || err != nil {
			t.Errorf("%v is %g, %v", value, x, err)
		}
	}
	for _, tt := range []struct {
		err  error
		says string
	}{
		{second(file.Quantity(true, si.Voltage)), "true is not a voltage; give volts"},
		{second(file.Quantity([]any{1.0}, si.Voltage)), "a list of one is not a voltage"},
		{second(file.Prose(3.0)), "3 is not text; put it in quotes"},
		{second(file.Word("hihg", "side", []string{"low", "high"})), "did you mean high?; allowed: low, high"},
		{second(file.Word(map[string]any{}, "side", []string{"low", "high"})), "a table is not a side"},
	} {
		if tt.err == nil || !strings.Contains(tt.err.Error(), tt.says) {
			t.Errorf("%v, want %q", tt.err, tt.says)
		}
	}
	for value, want := range map[any]string{"a \"b\"": `"a \"b\""`, 3.5: "3.5", true: "true"} {
		if got := file.Called(value); got != want {
			t.Errorf("%v is called %s, want %s", value, got, want)
		}
	}
	if got := file.Called([]any{1, 2, 3}); got != "a list of 3" {
		t.Error(got)
	}
	if s, err := file.Prose("x"); s != "x" || err != nil {
		t.Errorf("%q, %v", s, err)
	}
	if i, err := file.Word("high", "side", []string{"low", "high"}); i != 1 || err != nil {
		t.Errorf("%d, %v", i, err)
	}
}

func second[T any](_ T, err error) error { return err }

func TestShelf(t *testing.T) {
	shelf := file.Shelf{Folder: "devices", Noun: "device"}
	if names := shelf.Names(); !slices.Contains(names, "igbt-750") || slices.ContainsFunc(names, func(s string) bool { return strings.Contains(s, ".") }) {
		t.Errorf("%q", names)
	}
	if found, data, err := shelf.Read("", "igbt-750"); found != "igbt-750" || len(data) == 0 || err != nil {
		t.Errorf("%q, %d bytes, %v", found, len(data), err)
	}
	if _, _, err := shelf.Read("", "igbt-75"); err == nil || !strings.Contains(err.Error(), "did you mean igbt-750?") {
		t.Errorf("%v", err)
	}
	if _, _, err := shelf.Read(t.TempDir(), "./igbt-750"); err == nil || err.Error() != "there is no such file" {
		t.Errorf("%v", err)
	}
	if found, data, err := shelf.Find("igbt-750"); found != "igbt-750" || len(data) == 0 || err != nil {
		t.Errorf("%q, %d bytes, %v", found, len(data), err)
	}
	if _, _, err := shelf.Find("igbt-75"); err == nil || !strings.HasPrefix(err.Error(), "igbt-75: there is no such file") {
		t.Errorf("%v", err)
	}
	if _, err := file.ReadAll(strings.NewReader(strings.Repeat("x", file.MostBytes+1))); err == nil {
		t.Error("a file of more than the most is read")
	}
}

// TestShelfOfFiles: a path is read where it starts from; another ending, a longer file and one that cannot be read.
func TestShelfOfFiles(t *testing.T) {
	dir := t.TempDir()
	for name, n := range map[string]int{"x.toml": 5, "long.toml": file.MostBytes + 1} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Repeat("#", n)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	shelf := file.Shelf{Folder: "devices", Noun: "device"}
	for _, from := range []string{dir, "elsewhere"} {
		path := "x.toml"
		if from != dir {
			path = filepath.Join(dir, path)
		}
		if found, data, err := shelf.Read(from, path); found != filepath.Join(dir, "x.toml") || string(data) != "#####" || err != nil {
			t.Errorf("from %s: %q, %q, %v", from, found, data, err)
		}
	}
	if _, _, err := shelf.Read(dir, "long.toml"); err == nil || err.Error() != "is longer than 1 MiB, more than any such file needs" {
		t.Errorf("%v", err)
	}
	if _, _, err := shelf.Read("", dir); err == nil || !strings.HasPrefix(err.Error(), "cannot be read: ") || strings.Contains(err.Error(), dir) {
		t.Errorf("a folder: %v", err)
	}
	if _, _, err := shelf.Read(dir, "x.toml/y"); err == nil || !strings.HasPrefix(err.Error(), "cannot be read: ") {
		t.Errorf("a file below a file: %v", err)
	}
	broken := errors.New("the pipe broke")
	if _, err := file.ReadAll(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
	curves := file.Shelf{Folder: "devices", Noun: "curve", Ending: ".csv"}
	for _, name := range curves.Names() {
		if found, data, err := curves.Read("", name); found != name || !strings.Contains(string(data), "temperature_c") || err != nil {
			t.Errorf("%s: %q, %v", name, found, err)
		}
	}
	if len(curves.Names()) == 0 || slices.Contains(curves.Names(), "igbt-750") {
		t.Errorf("curves are %q", curves.Names())
	}
}

// TestQuoted: what is quoted reads back as it was, but for bytes that are no text.
func TestQuoted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		doc, wrong := file.Parse("x.toml", []byte("s = "+file.Quoted(s)+"\n"))
		if wrong != nil || doc.Values["s"] != strings.ToValidUTF8(s, "\ufffd") {
			t.Fatalf("%q is quoted %s and reads %q, %v", s, file.Quoted(s), doc.Values["s"], wrong)
		}
	})
	if got := file.Quoted("a\xffb"); got != "'a\ufffdb'" {
		t.Error(got)
	}
}

// TestDeep: keys may lie fifty tables deep, however that is written, and a megabyte of deeper ones is refused before the
// paths to them fill the memory.
func TestDeep(t *testing.T) {
	for _, tt := range []struct {
		form  string
		other int // parts of the path that are not the long key's
	}{
		{"x = 1\n%s = 1\n", 0},
		{"x = 1\n[%s]\n", 0},
		{"x = 1\n[[%s]]\n", 1},
		{"x = 1\na = [{ %s = 1 }]\n", 2},
		{"x = 1\na.%s = { b.c = 1 }\n", 3},
	} {
		for parts, want := range map[int]string{
			50 - tt.other: "<nil>",
			51 - tt.other: "x.toml:2: a: holds keys more than 50 tables deep; none that is known lies so deep",
			500_000:       "x.toml:2: a: holds keys more than 50 tables deep; none that is known lies so deep",
		} {
			_, wrong := file.Parse("x.toml", fmt.Appendf(nil, tt.form, strings.Repeat("a.", parts-1)+"a"))
			if wrong == nil && want != "<nil>" || wrong != nil && wrong.Error() != want {
				t.Errorf("%q of %d parts: %v, want %s", tt.form, parts, wrong, want)
			}
		}
	}
}
