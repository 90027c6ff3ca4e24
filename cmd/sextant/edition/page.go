package edition

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"sextant/assets"
)

const (
	pageName   = "index.html"
	workerName = "worker.js"
)

// pagePolicy is what the page may do: run its own scripts and program and show its own pictures, and nothing else.
const pagePolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; " +
	"connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'"

// page returns the files of the site that need no building.
func page() (Files, error) {
	files, err := icons()
	if err != nil {
		return nil, err
	}
	entries, err := assets.Site.ReadDir("site")
	if err != nil {
		return nil, err
	}
	for _, entry := range entries {
		if files[entry.Name()], err = assets.Site.ReadFile("site/" + entry.Name()); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// complete tells the page how much there is to load and what it may do; and the worker that keeps the site which
// files there are, and a version that is new whenever one of them is.
func (f Files) complete() error {
	f[pageName] = replace(f[pageName],
		"@policy@", pagePolicy,
		"@packed@", strconv.Itoa(len(f[packedName])),
		"@unpacked@", strconv.Itoa(len(f[programName])))
	sum := sha256.New()
	keep := []string{"./"}
	for _, name := range slices.Sorted(maps.Keys(f)) {
		sum.Write(f[name])
		if name != programName && name != workerName && name != pageName {
			keep = append(keep, name)
		}
	}
	list, err := json.Marshal(keep)
	if err != nil {
		return err
	}
	f[workerName] = replace(f[workerName], `"@files@"`, string(list), "@version@", hex.EncodeToString(sum.Sum(nil)[:8]))
	return nil
}

// replace returns text with each even one of pairs replaced by the one behind it.
func replace(text []byte, pairs ...string) []byte {
	for k := 0; k < len(pairs); k += 2 {
		text = bytes.ReplaceAll(text, []byte(pairs[k]), []byte(pairs[k+1]))
	}
	return text
}
