package main

import (
	"image"
	_ "image/gif"
	_ "image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What the README promises: its scenario is right, its commands that make pictures make them, in the size of
// those it shows.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	_, rest, _ := strings.Cut(text, "```toml\n")
	scenario, _, ok := strings.Cut(rest, "```")
	if !ok {
		t.Fatal("there is no scenario in the README")
	}
	var stdout, stderr strings.Builder
	if got := run([]string{"run", "-"}, strings.NewReader(scenario), &stdout, &stderr); got != done || stderr.Len() > 0 {
		t.Errorf("its scenario ends with status %d: %s", got, stderr.String())
	}
	commands := regexp.MustCompile(`(?m)^    go run ./cmd/sextant (.*?)(\S+\.(?:png|gif))(.*)$`).FindAllStringSubmatch(text, -1)
	shown := regexp.MustCompile(`\]\((assets/readme/\S+\.(?:png|gif))\)`).FindAllStringSubmatch(text, -1)
	if len(commands) != len(shown) || len(shown) == 0 {
		t.Fatalf("%d commands for %d pictures", len(commands), len(shown))
	}
	for _, c := range commands {
		made := filepath.Join(t.TempDir(), c[2])
		args := append(append(strings.Fields(c[1]), made), strings.Fields(c[3])...)
		var stderr strings.Builder
		if got := run(args, os.Stdin, &strings.Builder{}, &stderr); got != done {
			t.Errorf("%v: status %d: %s", args, got, stderr.String())
			continue
		}
		if a, b := sizeOf(t, made), sizeOf(t, filepath.Join("../../assets/readme", c[2])); a != b {
			t.Errorf("%s is of %v, that of the README of %v", c[2], a, b)
		}
	}
}

func sizeOf(t *testing.T, file string) [2]int {
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, _, err := image.DecodeConfig(f)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return [2]int{c.Width, c.Height}
}
