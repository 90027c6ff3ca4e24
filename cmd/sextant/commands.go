package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sextant/inverter/slip"
)

// columns is the width of a terminal that every text for people fits.
const columns = 80

// rootCommand returns the program's command with all others under it; began becomes true once a command
// line is understood and its work begins.
func rootCommand(began *bool) *cobra.Command {
	root := &cobra.Command{
		Use:   "sextant",
		Short: "See and predict the six-switch inverter and the machine behind it",
		Long: `Sextant shows and calculates the six-switch three-phase inverter and the
permanent-magnet machine behind it: which switches conduct, what each winding
sees, where the field points, what the rotor does and where the power goes.

Without a command it opens the moving picture.

It is for learning and reasoning and certifies nothing. A turning magnet rotor
makes voltage with every switch off, and a link capacitor stays charged: before
working on a drive follow local codes, the maker's procedure and a qualified
person.`,
		Example: `  sextant
  sextant steps --pattern six-step-120 --supply 48V
  sextant run hauler-climb`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			hint := ""
			if near := c.SuggestionsFor(args[0]); len(near) > 0 {
				hint = fmt.Sprintf("; did you mean %s?", near[0])
			}
			return fmt.Errorf("there is no command %q%s (\"sextant --help\" lists them)", args[0], hint)
		},
		PersistentPreRunE: func(_ *cobra.Command, args []string) error {
			if slices.Contains(args, "") {
				return errors.New("an argument is empty; give a name or a file")
			}
			*began = true
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error {
			return openPicture(c.Context(), c.OutOrStdout(), c.ErrOrStderr())
		},
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: false},
	}
	root.SuggestionsMinimumDistance = 2
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.SetFlagErrorFunc(flagHint)
	root.SetUsageTemplate(narrow(root.UsageTemplate()))
	root.AddCommand(
		stepsCommand(),
		harmonicsCommand(),
		runCommand(),
		lossesCommand(),
		envelopeCommand(),
		cycleCommand(),
		diagnoseCommand(),
		listCommand(),
		showCommand(),
		checkCommand(),
		nameplateCommand(),
		symptomsCommand(),
		lessonCommand(),
		validateCommand(),
		stillCommand(),
		filmCommand(),
		handoutCommand(),
		serveCommand(),
		manCommand(),
		versionCommand(),
	)
	return root
}

// narrow makes a usage template wrap the flags.
func narrow(template string) string {
	cobra.AddTemplateFunc("usages", usages)
	return strings.NewReplacer(
		".LocalFlags.FlagUsages", "usages .LocalFlags",
		".InheritedFlags.FlagUsages", "usages .InheritedFlags",
	).Replace(template)
}

// usages says what flags do, within the columns of a terminal.
func usages(flags *pflag.FlagSet) string {
	shown := pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.VisitAll(func(f *pflag.Flag) {
		g := *f
		if g.Value.Type() == "bool" {
			g.Value = toggle{g.Value}
		}
		shown.AddFlag(&g)
	})
	return shown.FlagUsagesWrapped(columns)
}

// A toggle is the value of a flag that stands alone on most command lines, and so in the help.
type toggle struct{ pflag.Value }

// Type names what is shown without a value.
func (toggle) Type() string { return "boolfunc" }

// flagHint adds the flag that may be meant to a complaint about one that there is not, and leaves out of
// others what is said twice.
func flagHint(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		var value *pflag.InvalidValueError
		if errors.As(err, &value) {
			return fmt.Errorf("--%s: %w", value.GetFlag().Name, value.Unwrap())
		}
		return err
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := slip.Nearest(unknown.GetSpecifiedName(), names); near != "" {
		return fmt.Errorf("%s has no flag --%s; did you mean --%s?", c.CommandPath(), unknown.GetSpecifiedName(), near)
	}
	return fmt.Errorf("%s has no flag --%s (\"%s --help\" lists them)", c.CommandPath(), unknown.GetSpecifiedName(), c.CommandPath())
}

// optional leaves the defaults of flags out of the help, where they say no more than that nothing is given.
func optional(cmd *cobra.Command, flags ...string) {
	for _, name := range flags {
		cmd.Flags().Lookup(name).DefValue = ""
	}
}
