package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
	"example.com/sawdatum/wizard/stages"
)

// say writes a report. A terminal gets it in lines of its width, folded between words; what goes to a file
// or another program has its lines whole.
func say(w io.Writer, report string) error {
	if f, ok := w.(interface{ Fd() uintptr }); ok && isTerminal(w) {
		if width, _, err := term.GetSize(f.Fd()); err == nil {
			report = folded(report, width)
		}
	}
	_, err := io.WriteString(w, report)
	return err
}

// foldedLines says whole lines, or prompts, as reports are said.
type foldedLines struct{ io.Writer }

func (l foldedLines) Write(p []byte) (int, error) { return len(p), say(l.Writer, string(p)) }

// narrowest is the least width that lines are folded to.
const narrowest = 40

// folded are lines of so many cells at the most: the rest of a long one stands below it, two cells in.
func folded(report string, width int) string {
	var out strings.Builder
	for line := range strings.Lines(report) {
		text := strings.TrimLeft(line, " ")
		indent := strings.Repeat(" ", len(line)-len(text))
		at := len(indent)
		out.WriteString(indent)
		for i, word := range strings.Split(strings.TrimSuffix(text, "\n"), " ") {
			wide := ansi.StringWidth(word)
			switch {
			case i == 0:
			case at+1+wide > width && at > len(indent)+2 && width >= narrowest:
				out.WriteString("\n" + indent + "  ")
				at = len(indent) + 2
			default:
				out.WriteString(" ")
				at++
			}
			out.WriteString(word)
			at += wide
		}
		out.WriteString(line[len(strings.TrimSuffix(line, "\n")):]) // none behind a prompt
	}
	return out.String()
}

// plan prints what the numbers say of one saw.
func (s *settings) plan() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:               "plan PROFILE",
		Short:             "What the numbers say: reference, rings, residuals, verdicts and why",
		Args:              upTo(1, "PROFILE"),
		ValidArgsFunction: s.complete,
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.read(args[0])
			if err != nil {
				return err
			}
			now := time.Now()
			plan := planned(f.Profile, now)
			if asJSON {
				err = export.WritePlanJSON(c.OutOrStdout(), f.Profile, plan)
			} else {
				err = say(c.OutOrStdout(), export.PlanText(f.Profile, plan, now))
			}
			for _, row := range plan.Blades {
				if err == nil && (row.Verdict != model.In || row.Knife != model.KnifeFits) {
					err = no{}
				}
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON, lengths in millimetres")
	return c
}

// shop tells of every saw of the profile folder.
func (s *settings) shop() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "shop",
		Short: "Every saw of the folder, every blade: ready, due, check, not ready, and why",
		Args:  upTo(0),
		RunE: func(c *cobra.Command, _ []string) error {
			now := time.Now()
			saws, err := s.saws(now)
			if _, gone := os.Stat(s.dir); s.dir != "" && gone != nil {
				err = profiles.Explain(s.dir, gone)
			}
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), export.ShopReportOf(saws))
			}
			return say(c.OutOrStdout(), export.ShopText(saws, now))
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

// layout prints what to lay out before a setup.
func (s *settings) layout() *cobra.Command {
	var blades int
	var inches bool
	c := &cobra.Command{
		Use:   "layout [PROFILE]",
		Short: "Print what to lay out before a setup: blanks by number and size, and what lies on the bench",
		Args:  upTo(0, "PROFILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if blades < 1 || blades > 32 {
				return fmt.Errorf("--blades %d: a saw carries 1 to 32 blades", blades)
			}
			p := model.Profile{Name: "a new saw", Units: model.MM}
			if inches {
				p.Units = model.IN
			}
			if len(args) > 0 {
				f, err := s.read(args[0])
				if err != nil {
					return err
				}
				p = f.Profile
				if n := len(p.Rack()); n > 0 && blades != n && c.Flags().Changed("blades") {
					return fmt.Errorf("--blades %d: the rack of %s has %d: leave the option out", blades, text.Show(f.Path), n)
				}
				if inches && p.Units != model.IN {
					return fmt.Errorf("--inches is for a new saw, and %s is there: leave the option out", text.Show(f.Path))
				}
			}
			_, err := io.WriteString(c.OutOrStdout(), stages.Layout(p, blades))
			return err
		},
	}
	c.Flags().IntVar(&blades, "blades", 5, "how many blades a new saw carries")
	c.Flags().BoolVar(&inches, "inches", false, "sizes of a new saw in inches")
	return c
}

// stack works out one stack from the command line.
func stack() *cobra.Command {
	var want, within, highest string
	var rings []string
	var asJSON bool
	c := &cobra.Command{
		Use:   "stack --want LEN --ring LEN[xN]...",
		Short: "Work out one stack of rings",
		Args:  andFlags(upTo(0), "want", "ring"),
		RunE: func(c *cobra.Command, _ []string) error {
			goal, unit, zone := stacking.Goal{Highest: model.MaxLength}, model.MM, model.Length(0)
			for _, l := range []struct {
				name, text string
				into       *model.Length
			}{{"max", highest, &goal.Highest}, {"within", within, &zone}, {"want", want, &goal.Want}} {
				if !c.Flags().Changed(l.name) {
					continue
				}
				m, err := model.ParseLength(l.text, model.NoUnit)
				if err != nil {
					return fmt.Errorf("--%s: %w", l.name, err)
				}
				*l.into, unit = m.Length, m.Unit
			}
			if slices.ContainsFunc(rings, func(r string) bool { return strings.TrimSpace(r) == "" }) {
				return errors.New("--ring: nothing typed: type a thickness, such as 0.10 mm")
			}
			typed, err := model.ParseKit(strings.Join(rings, " "), model.NoUnit)
			if err != nil {
				return fmt.Errorf("--ring: %w", err)
			}
			var pieces []stacking.Piece
			for _, r := range typed {
				for range r.Count {
					pieces = append(pieces, stacking.Piece{ID: r.Thickness.String(), Height: r.Thickness.Length})
				}
			}
			kit, err := stacking.NewKit(pieces)
			if err != nil {
				return err
			}
			goal.Zone = stacking.Both(zone)
			fit, err := kit.Best(goal)
			if err != nil {
				return err
			}
			if asJSON {
				err = printJSON(c.OutOrStdout(), export.StackReportOf(fit))
			} else {
				_, err = io.WriteString(c.OutOrStdout(), export.StackText(fit, kit.Shortfall(fit, metrology.Words{Unit: unit}), unit))
			}
			if err == nil && fit.Verdict != model.In {
				err = no{}
			}
			return err
		},
	}
	c.Flags().StringVar(&want, "want", "", "wanted `height`, with its unit")
	c.Flags().StringArrayVar(&rings, "ring", nil, "`thickness` of a ring, with xN behind it for N of them")
	c.Flags().StringVar(&within, "within", "0 mm", "`distance` that the stack may be off, to either side")
	c.Flags().StringVar(&highest, "max", "", "greatest `height` that the thread allows")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// check lists what is wrong with profiles, and what is not filled in yet.
func (s *settings) check() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:         "check PROFILE...",
		Short:       "Say what is wrong with profiles; status 1 with findings",
		Annotations: byStatus,
		Args: func(c *cobra.Command, args []string) error {
			return upTo(1, slices.Repeat([]string{"PROFILE"}, max(1, len(args)))...)(c, args)
		},
		ValidArgsFunction: s.completeProfile,
		RunE: func(c *cobra.Command, args []string) error {
			all := text.Findings{}
			var unread error // the first file that is not there or cannot be opened
			for _, arg := range args {
				f, err := s.read(arg)
				var faults text.Findings
				if err != nil && !errors.As(err, &faults) && unread == nil {
					unread = err
				}
				all = append(append(all, faults...), f.Unfinished...)
				if err == nil {
					all = slices.Concat(all, f.Doubts(time.Now()), f.Ahead(time.Now()), staleFindings(f))
				}
			}
			if asJSON {
				if err := printJSON(c.OutOrStdout(), export.FindingsReport(all)); err != nil {
					return err
				}
			} else if len(all) > 0 {
				if err := say(c.OutOrStdout(), fmt.Sprintln(all)); err != nil {
					return err
				}
			}
			if len(all) > 0 && unread == nil {
				return no{}
			}
			return unread
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

// staleFindings name the papers beside a profile that no longer tell what it tells, and
// the command that writes each anew.
func staleFindings(f profiles.File) (out text.Findings) {
	for _, paper := range export.Stale(f.Path, f.Profile, solver.Judge(f.Profile, time.Now())) {
		both := ""
		if paper.BothUnits {
			both = " --both-units"
		}
		out = append(out, text.Finding{File: paper.Path, Finding: model.Finding{
			Fault: fmt.Sprintf("is of %s, state %s, and the blades are in state %s now", paper.Date, paper.State, paper.Now),
			Cure:  fmt.Sprintf("write it anew: sawdatum export %s --as %s%s -o %s", inShell(f.Path), paper.As, both, inShell(paper.Path)),
		}})
	}
	return out
}

// export writes a profile for people or programs.
func (s *settings) export() *cobra.Command {
	var as, file string
	var opt export.Options
	c := &cobra.Command{
		Use:               "export PROFILE --as " + strings.Join(export.Ways(), "|"),
		Short:             "Write it for the other shift, the wall, the blade boxes or the spreadsheet",
		Args:              andFlags(upTo(1, "PROFILE"), "as"),
		ValidArgsFunction: s.complete,
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.read(args[0])
			if err != nil {
				return err
			}
			opt.Now, opt.Plain = time.Now(), s.ascii
			plan := planned(f.Profile, opt.Now)
			opt = exportOptions(as, f.Path, f.Profile, opt)
			if file == "" || file == "-" {
				return export.Write(c.OutOrStdout(), as, f.Profile, plan, opt)
			}
			return export.WriteFile(file, as, f.Profile, plan, opt)
		},
	}
	c.Flags().StringVar(&as, "as", "", "`way` of handing it on: "+strings.Join(export.Ways(), ", "))
	c.Flags().StringVarP(&file, "output", "o", "", "`file` to write; without it, or with -, standard output")
	c.Flags().BoolVar(&opt.BothUnits, "both-units", false, "lengths in millimetres and in inches")
	c.RegisterFlagCompletionFunc("as", cobra.FixedCompletions(export.Ways(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

// planned is what the numbers say, and what is to be expected of the blades.
func planned(p model.Profile, now time.Time) model.Plan {
	plan := solver.Judge(p, now)
	plan.Reasons = append(plan.Reasons, solver.Outlook(p)...)
	return plan
}
