package main

import (
	"errors"

	"github.com/spf13/cobra"
)

// exactlyOne is the arguments of a command that takes one, and else says so.
func exactlyOne(says string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != 1 {
			return errors.New(says)
		}
		return nil
	}
}

// completeFirst offers names of what is built in, and files, for the first argument.
func completeFirst(names ...func() []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var all []string
		for _, some := range names {
			all = append(all, some()...)
		}
		return all, cobra.ShellCompDirectiveDefault
	}
}
