package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func manCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Write the manual pages into a folder",
		Long:    "Write a manual page for each command into a folder, which is made if need be.",
		Example: "  sextant man ~/.local/share/man/man1",
		Args:    exactlyOne("man writes into one folder: give its name"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return fmt.Errorf("%s cannot be made: %w", args[0], errors.Unwrap(err))
			}
			c.Root().DisableAutoGenTag = true
			return writeManual(c.Root(), args[0])
		},
	}
}

// writeManual writes the pages of a command and of those under it, as doc.GenManTree names them, each whole or not at
// all.
func writeManual(c *cobra.Command, dir string) error {
	for _, under := range c.Commands() {
		if !under.IsAvailableCommand() || under.IsAdditionalHelpTopicCommand() {
			continue
		}
		if err := writeManual(under, dir); err != nil {
			return err
		}
	}
	header := doc.GenManHeader{Title: "SEXTANT", Section: "1", Source: "Sextant", Manual: "Sextant"}
	page := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1"
	return writeAside(filepath.Join(dir, page), func(w io.Writer) error { return doc.GenMan(c, &header, w) })
}
