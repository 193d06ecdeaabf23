package main

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
	"github.com/spf13/pflag"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
)

const about = `Set up a table saw so that every blade cuts at one line. Without a command: the
start screen, to choose a profile, to begin a new saw, or to practise.

PROFILE is a path, or the name of a profile in the folder: --dir, else
$SAWDATUM_DIR, else the platform's data folder. NO_COLOR is honoured; TERM=dumb
and ACCESSIBLE choose plain lines.

Exit status: 0 done; 1 the answer is no (findings, a blade not in, a gate not
passed, a setup left before its end, answers that could not be saved); 2 usage,
or input that cannot be read.`

// upTo takes the arguments named, the first of them at least, and says which is
// missing or one too many.
func upTo(least int, names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		empty := slices.Index(args, "")
		switch {
		case len(args) > len(names):
			return fmt.Errorf("%q is not wanted here: %s --help shows what is", model.Clip(args[len(names)]), c.CommandPath())
		case empty >= 0:
			return fmt.Errorf("%s is empty: %s", names[empty], c.UseLine())
		case len(args) < least:
			return fmt.Errorf("%s is missing: %s", names[len(args)], c.UseLine())
		}
		return nil
	}
}

// andFlags asks for flags that a command cannot do without, behind its arguments.
func andFlags(args cobra.PositionalArgs, names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, given []string) error {
		for _, name := range names {
			if !c.Flags().Changed(name) {
				return cmp.Or(args(c, given), fmt.Errorf("--%s is missing: %s", name, c.UseLine()))
			}
		}
		return args(c, given)
	}
}

// knownCommand takes no arguments: what stands there was to be a command below c.
func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	mean := ":"
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		mean = "; did you mean " + strings.Join(near, " or ") + "?"
	}
	if !c.HasSubCommands() {
		return upTo(0)(c, args)
	}
	return fmt.Errorf("%q is no command%s %s --help lists them", model.Clip(args[0]), mean, c.CommandPath())
}

// noneEmpty refuses an option that was given an empty text, as by a variable of the
// shell that is not set: it does not count as not given.
func noneEmpty(c *cobra.Command) (err error) {
	c.Flags().Visit(func(f *pflag.Flag) {
		if f.Value.Type() == "string" && f.Value.String() == "" && err == nil {
			what, _ := pflag.UnquoteUsage(f)
			err = fmt.Errorf("--%s is empty: write its %s", f.Name, what)
		}
	})
	return err
}

// help and manual tell of the program or of one command.
func help() *cobra.Command {
	return telling("help", "Help about the program, or about one command", func(of, _ *cobra.Command) error {
		of.InitDefaultHelpFlag()
		of.InitDefaultVersionFlag()
		return of.Help()
	})
}

func manual() *cobra.Command {
	return telling("man", "Write the manual page of the program, or of one command", func(of, c *cobra.Command) error {
		return doc.GenMan(of, &doc.GenManHeader{Section: "1", Source: "sawdatum " + c.Root().Version}, c.OutOrStdout())
	})
}

func telling(name, short string, tell func(of, c *cobra.Command) error) *cobra.Command {
	return &cobra.Command{
		Use:   name + " [COMMAND]",
		Short: short,
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) (names []string, _ cobra.ShellCompDirective) {
			if of, rest, err := c.Root().Find(args); err == nil && len(rest) == 0 {
				for _, next := range of.Commands() {
					if next.IsAvailableCommand() {
						names = append(names, next.Name())
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			of, rest, err := c.Root().Find(args)
			if err == nil {
				err = knownCommand(of, rest)
			}
			if err != nil {
				return err
			}
			return tell(of, c)
		},
	}
}

// needShell has completion say which shells there are, where none or another is named.
func needShell(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	c, _, err := root.Find([]string{"completion"})
	if err != nil {
		return
	}
	c.Args, c.SuggestionsMinimumDistance = cobra.ArbitraryArgs, root.SuggestionsMinimumDistance
	c.RunE = func(c *cobra.Command, args []string) error {
		var shells []string
		for _, shell := range c.Commands() {
			shells = append(shells, shell.Name())
		}
		return cmp.Or(knownCommand(c, args), fmt.Errorf("the shell is missing: %s %s", c.CommandPath(), strings.Join(shells, "|")))
	}
}

// complete lists profiles, and behind one the blades of its rack.
func (s *settings) complete(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	var out []string
	switch len(args) {
	case 0:
		entries, _ := profiles.List(profiles.Dir(s.dir))
		for _, e := range entries {
			out = append(out, strings.TrimSuffix(filepath.Base(e.Path), filepath.Ext(e.Path)))
		}
		return out, cobra.ShellCompDirectiveDefault
	case 1:
		if f, err := s.read(args[0]); err == nil && slices.Contains([]string{"blade", "swap", "prove"}, c.Name()) {
			out = bladeIDs(f.Profile)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeProfile lists profiles, whatever stands before.
func (s *settings) completeProfile(c *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	return s.complete(c, nil, typed)
}
