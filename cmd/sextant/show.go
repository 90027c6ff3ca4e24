package main

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/assets"
	"sextant/inverter/slip"
)

func showCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "show [KIND] NAME",
		Short: "Print a built-in file, to begin one's own with",
		Long: `Print the file of a built-in scenario, machine, device, vehicle, duty cycle or
lesson, which "sextant list" names: to see what keys there are, and to begin a
file of one's own with. A name that two kinds have needs its KIND, as in
"sextant show vehicles hauler".`,
		Example: `  sextant show hauler-climb > mine.toml
  sextant show devices igbt-750
  sextant show vehicles hauler`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 && len(args) != 2 {
				return fmt.Errorf("show prints one file, not %d: give its name, as \"sextant list\" has it", len(args))
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			kinds := filedKinds()
			if len(args) == 1 && slices.Contains(kinds, args[0]) {
				kinds = args
			} else if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			var names []string
			for _, kind := range kinds {
				names = append(names, filed(kind)...)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			data, err := filedAs(args)
			if err == nil {
				_, err = c.OutOrStdout().Write(data)
			}
			return err
		},
	}
	return cmd
}

// filedKinds lists the kinds of what is built in as files.
func filedKinds() []string {
	entries, _ := fs.ReadDir(assets.Files, ".")
	var kinds []string
	for _, e := range entries {
		kinds = append(kinds, e.Name())
	}
	return kinds
}

// filed lists the names of a kind's files; curves that devices name go by theirs, with its ending.
func filed(kind string) []string {
	entries, _ := fs.ReadDir(assets.Files, kind)
	var names []string
	for _, e := range entries {
		names = append(names, nameOfFile(kind, e.Name()))
	}
	return names
}

func nameOfFile(kind, file string) string {
	if kind == "devices" {
		return strings.TrimSuffix(file, ".toml")
	}
	return strings.TrimSuffix(file, path.Ext(file))
}

// filedAs returns the file that a name, or a kind and a name, mean.
func filedAs(args []string) ([]byte, error) {
	kinds, name := filedKinds(), args[len(args)-1]
	if len(args) == 2 {
		if !slices.Contains(kinds, args[0]) {
			return nil, usage("there are no files of %q; kinds are %s", args[0], strings.Join(kinds, ", "))
		}
		kinds = args[:1]
	}
	var files, of, all []string
	for _, kind := range kinds {
		entries, err := fs.ReadDir(assets.Files, kind)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			this := nameOfFile(kind, e.Name())
			if all = append(all, this); this == name {
				files, of = append(files, path.Join(kind, e.Name())), append(of, kind)
			}
		}
	}
	switch len(files) {
	case 1:
		return assets.Files.ReadFile(files[0])
	case 0:
		return nil, usage("nothing of the name %q is built in%s; \"sextant list\" shows what is", name, slip.Meant(name, all))
	}
	return nil, usage("%q is a name of %s; say which, like \"sextant show %s %s\"", name, strings.Join(of, " and of "), of[0], name)
}
