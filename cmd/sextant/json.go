package main

import (
	"encoding/json"
	"io"
)

// printJSON prints v as one JSON object and nothing else; numbers are in the shortest form that reads back.
func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
