// Command sawdatum sets up a table saw so that every blade of the rack cuts at one
// line: it leads through the work, computes the shim rings, and keeps the saw's
// profile.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	_ "example.com/sawdatum/wizard/background"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit statuses.
const (
	done     = 0
	answerNo = 1 // findings, a blade not in, a gate not passed
	misused  = 2 // usage, or input that cannot be read
)

// no is an answer of no: it ends with status 1. The zero error says nothing more.
type no struct{ error }

func (n no) Unwrap() error { return n.error }

// run obeys one command line. An error is one line on errs.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	cobra.MousetrapHelpText = "" // a double click on Windows is a start like any other
	root := commands()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.Execute()
	var n no
	isNo := errors.As(err, &n)
	if err != nil && (!isNo || n.error != nil) {
		fmt.Fprintln(errs, err)
	}
	switch {
	case err == nil:
		return done
	case isNo:
		return answerNo
	}
	return misused
}

func commands() *cobra.Command {
	root := &cobra.Command{
		Use:           "sawdatum",
		Short:         "Set up a table saw so that every blade cuts at one line",
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          exactly(),
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetVersionTemplate("sawdatum {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w: %s --help lists the options", err, c.CommandPath())
	})
	root.AddCommand(stackCommand(), manCommand())
	return root
}

// stackCommand works out one stack from the command line.
func stackCommand() *cobra.Command {
	var want, within, highest string
	var rings []string
	var asJSON bool
	c := &cobra.Command{
		Use:   "stack --want LEN --ring LEN[xN]...",
		Short: "Work out one stack of rings",
		Args:  exactly(),
		RunE: func(c *cobra.Command, _ []string) error {
			goal, unit := solver.Goal{Highest: model.MaxLength}, model.MM
			for _, l := range []struct {
				name, text string
				into       *model.Length
			}{{"max", highest, &goal.Highest}, {"within", within, &goal.Within}, {"want", want, &goal.Want}} {
				if !c.Flags().Changed(l.name) {
					continue
				}
				m, err := model.ParseLength(l.text, model.NoUnit)
				if err != nil {
					return fmt.Errorf("--%s %w", l.name, err)
				}
				*l.into, unit = m.Length, m.Unit
			}
			typed, err := procedure.ParseKit(strings.Join(rings, " "), model.NoUnit)
			if err != nil {
				return fmt.Errorf("--ring: %w", err)
			}
			var pieces []solver.Piece
			for _, r := range typed {
				for range r.Count {
					pieces = append(pieces, solver.Piece{ID: r.Thickness.String(), Height: r.Thickness.Length})
				}
			}
			kit, err := solver.NewKit(pieces)
			if err != nil {
				return err
			}
			fit, err := kit.Best(goal)
			if err != nil {
				return err
			}
			if asJSON {
				err = printJSON(c.OutOrStdout(), stackJSON(fit))
			} else {
				printStack(c.OutOrStdout(), fit, kit.Shortfall(fit, solver.Words{Unit: unit}), unit)
			}
			if err == nil && fit.Verdict != model.In {
				err = no{}
			}
			return err
		},
	}
	c.Flags().StringVar(&want, "want", "", "wanted `height`, with its unit")
	c.Flags().StringArrayVar(&rings, "ring", nil, "`thickness` of a ring, with xN behind it for N of them")
	c.Flags().StringVar(&within, "within", "0 mm", "how far the stack may be off, to either side")
	c.Flags().StringVar(&highest, "max", "", "greatest `height` that the thread allows")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	c.MarkFlagRequired("want")
	c.MarkFlagRequired("ring")
	return c
}

func stackJSON(fit solver.Fit) map[string]any {
	rings := []float64{}
	for _, h := range fit.Heights() {
		rings = append(rings, h.Millimetres())
	}
	return map[string]any{"stack_mm": rings, "height_mm": fit.Height.Millimetres(), "residual_mm": fit.Residual().Millimetres(), "verdict": fit.Verdict}
}

func printStack(w io.Writer, fit solver.Fit, missing []model.Reason, unit model.Unit) {
	digits := instrument(append(fit.Heights(), fit.Height, fit.Want), unit)
	rings := "no rings"
	for i, h := range fit.Heights() {
		if i == 0 {
			rings = "rings, flange first:"
		}
		rings += " " + h.Show(unit, digits)
	}
	fmt.Fprintln(w, rings)
	fmt.Fprintf(w, "height %s, wanted %s: %s\n", fit.Height.Show(unit, digits), fit.Want.Show(unit, digits), strings.ToUpper(string(fit.Verdict)))
	for _, r := range missing {
		fmt.Fprintln(w, r.Text)
	}
}

// instrument is the resolution at which all these lengths show whole, two decimals
// of a millimetre or three of an inch at least.
func instrument(ls []model.Length, unit model.Unit) model.Length {
	resolution := model.Millimetre / 100
	if unit != model.MM {
		resolution = model.Thou
	}
	for _, l := range ls {
		for resolution > model.Nanometre && l%resolution != 0 {
			resolution /= 10
		}
	}
	return resolution
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

func manCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "man",
		Short: "Write the manual page",
		Args:  exactly(),
		RunE: func(c *cobra.Command, _ []string) error {
			return doc.GenMan(c.Root(), &doc.GenManHeader{Title: "SAWDATUM", Section: "1"}, c.OutOrStdout())
		},
	}
}

// exactly takes one argument for each name, and says which is missing.
func exactly(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < len(names):
			return fmt.Errorf("%s is missing: %s", names[len(args)], c.UseLine())
		case len(args) > len(names):
			return fmt.Errorf("%q is not wanted here: %s --help shows what is", model.Clip(args[len(names)]), c.CommandPath())
		}
		return nil
	}
}

// version is that of the module as it was built.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}
