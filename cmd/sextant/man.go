package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func manCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Write the manual pages into a folder",
		Long:    "Write a manual page for each command into a folder, which is made if need be.",
		Example: "  sextant man ~/.local/share/man/man1",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("man writes into one folder: give its name")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return err
			}
			c.Root().DisableAutoGenTag = true
			header := &doc.GenManHeader{Title: "SEXTANT", Section: "1", Source: "Sextant", Manual: "Sextant"}
			return doc.GenManTree(c.Root(), header, args[0])
		},
	}
}
