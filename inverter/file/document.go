package file

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
	"golang.org/x/text/encoding/unicode"
)

// A Document is a TOML file: its values, and the line of each key.
type Document struct {
	File   string
	Values map[string]any // of type string, int64, float64, bool, []any or map[string]any, and times

	lines map[string]int // by path
}

// Line returns the line, from 1, of a key in the tables that the keys before it name; the nth table of an
// array, from 0, has n for a key. It is 0 where there is no such key.
func (d Document) Line(keys ...string) int { return d.lines[path(keys...)] }

// path joins keys, which may hold dots themselves.
func path(keys ...string) string { return strings.Join(keys, "\x00") }

// Text returns data, a text that may open with a byte order mark, without that; where it is that of UTF-16, as UTF-8.
func Text(data []byte) []byte {
	if wide, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data); err == nil {
		return wide
	}
	return bytes.TrimPrefix(data, []byte("\ufeff"))
}

// Parse reads the syntax of data, which may open with a byte order mark, as [Text] reads it.
func Parse(file string, data []byte) (Document, *Finding) {
	d := Document{File: file, Values: map[string]any{}, lines: map[string]int{}}
	data = Text(data)
	if err := toml.Unmarshal(data, &d.Values); err != nil {
		f := &Finding{File: file, Err: errors.New(strings.TrimPrefix(err.Error(), "toml: "))}
		var at *toml.DecodeError
		if errors.As(err, &at) {
			f.Line, _ = at.Position()
			f.Key = strings.Join(at.Key(), ".")
			f.Err = plain(lineOf(data, f.Line), err)
		}
		return d, f
	}
	return d, d.index(data)
}

// deepest is how many tables and arrays deep keys may lie, with room to spare; without a bound, the paths to all of a
// megabyte of nested keys would fill the memory.
const deepest = 50

// index finds the line of each key and table, none of which may lie too deep. The syntax of data is known to be right.
func (d *Document) index(data []byte) (tooDeep *Finding) {
	var breaks []int
	for i, c := range data {
		if c == '\n' {
			breaks = append(breaks, i)
		}
	}
	note := func(at unstable.Range, keys []string) {
		line := 1 + sort.SearchInts(breaks, int(at.Offset))
		if len(keys) > deepest && tooDeep == nil {
			tooDeep = &Finding{File: d.File, Line: line, Key: keys[0], Err: fmt.Errorf("holds keys more than %d tables deep; none that is known lies so deep", deepest)}
		}
		if p := path(keys...); d.lines[p] == 0 {
			d.lines[p] = line
		}
	}
	count := map[string]int{} // tables of each array
	// follow notes a dotted key and each table that it opens, and returns where it leads; through an array of
	// tables it leads by the last of them.
	follow := func(from []string, key unstable.Iterator) []string {
		keys := slices.Clone(from)
		for tooDeep == nil && key.Next() {
			if n := count[path(keys...)]; n > 0 {
				keys = append(keys, strconv.Itoa(n-1))
			}
			keys = append(keys, string(key.Node().Data))
			note(key.Node().Raw, keys)
		}
		return keys
	}
	var descend func(keys []string, value *unstable.Node)
	descend = func(keys []string, value *unstable.Node) {
		n := 0
		for it := value.Children(); it.Next() && tooDeep == nil; n++ {
			switch child := it.Node(); child.Kind {
			case unstable.KeyValue:
				note(child.Value().Next().Raw, keys) // a table in an array stands where its first key does
				descend(follow(keys, child.Key()), child.Value())
			case unstable.InlineTable, unstable.Array:
				descend(append(slices.Clone(keys), strconv.Itoa(n)), child)
			}
		}
	}
	var table []string
	var parser unstable.Parser
	parser.Reset(data)
	for tooDeep == nil && parser.NextExpression() {
		switch e := parser.Expression(); e.Kind {
		case unstable.Table:
			table = follow(nil, e.Key())
		case unstable.ArrayTable:
			table = follow(nil, e.Key())
			p := path(table...)
			table = append(table, strconv.Itoa(count[p]))
			count[p]++
			for key := e.Key(); key.Next(); {
				note(key.Node().Raw, table)
			}
		case unstable.KeyValue:
			descend(follow(table, e.Key()), e.Value())
		}
	}
	return tooDeep
}

// Written writes values, as a [Document] has them, as TOML.
func Written(values map[string]any) []byte {
	data, err := toml.Marshal(values)
	if err != nil {
		panic(fmt.Sprintf("file: values that TOML cannot hold: %v", err))
	}
	return data
}

// Quoted writes s as a TOML string.
func Quoted(s string) string {
	line, err := toml.Marshal(map[string]string{"s": strings.ToValidUTF8(s, "\ufffd")})
	if err != nil {
		panic(fmt.Sprintf("file: a string that TOML cannot hold: %q: %v", s, err))
	}
	return strings.TrimSpace(strings.TrimPrefix(string(line), "s = "))
}
