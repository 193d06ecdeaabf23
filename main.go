// Command sawdatum sets up a table saw so that every blade of the rack cuts at one
// line: it leads through the work, computes the shim rings, and keeps the saw's
// profile.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/background"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit statuses.
const (
	done     = 0
	answerNo = 1 // findings, a blade not in, a gate not passed
	misused  = 2 // usage, or input that cannot be read
)

// no is an answer of no. Without an error in it, all has been said on out.
type no struct{ error }

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
		fmt.Fprintln(errs, oneLine(err))
	}
	switch {
	case err == nil:
		return done
	case isNo:
		return answerNo
	}
	return misused
}

// oneLine is the first of the findings in a file, or the error as it is.
func oneLine(err error) string {
	var fs profiles.Findings
	if errors.As(err, &fs) && len(fs) > 1 {
		return fmt.Sprintf("%v (and %d more: sawdatum check lists them)", fs[0], len(fs)-1)
	}
	return profiles.Show(err.Error())
}

// settings are the options that every command takes, and --plain.
type settings struct {
	dir                                string
	plain, noColor, ascii, light, dark bool
}

func commands() *cobra.Command {
	s := &settings{}
	root := &cobra.Command{
		Use:               "sawdatum",
		Short:             "Set up a table saw so that every blade cuts at one line",
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		DisableAutoGenTag: true,

		SuggestionsMinimumDistance: 2,
		Args:                       knownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := s.lead(c, wizard.Options{Shelf: s.shelf()})
			return err
		},
	}
	root.SetVersionTemplate("sawdatum {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w: %s --help lists the options", err, c.CommandPath())
	})
	flags := root.PersistentFlags()
	flags.StringVar(&s.dir, "dir", "", "`folder` of the profiles; else $SAWDATUM_DIR, else the platform's data folder")
	flags.BoolVar(&s.noColor, "no-color", os.Getenv("NO_COLOR") != "", "no colours")
	flags.BoolVar(&s.ascii, "ascii", false, "plain characters only")
	flags.BoolVar(&s.light, "light", false, "draw for a light background")
	flags.BoolVar(&s.dark, "dark", false, "draw for a dark background")
	root.AddCommand(s.setup(), s.blade(), s.isolate(), s.practice(), s.plan(), stack(), s.check(), s.export(), s.take(), manual())
	return root
}

func (s *settings) setup() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "setup [PROFILE]",
		Short: "Set a saw up, from wherever its profile stands; a new name begins a new saw",
		Args:  upTo(0, "PROFILE"),
		RunE: func(c *cobra.Command, args []string) error {
			o := wizard.Options{Shelf: s.shelf()}
			var err error
			if len(args) > 0 {
				o.Store, err = s.openOrBegin(args[0])
			} else if s.plain {
				err = errors.New("PROFILE is missing: name the saw's profile, or a new one: sawdatum setup PROFILE --plain")
			}
			if err == nil {
				_, err = s.lead(c, o)
			}
			return err
		},
	})
}

func (s *settings) blade() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "blade PROFILE BLADE",
		Short: "Run one blade again: sharpened, new, or after a failed check cut",
		Args:  upTo(2, "PROFILE", "BLADE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.read(args[0])
			if err != nil {
				return err
			}
			if b, ok := f.Profile.BladeByID(args[1]); !ok || b.Retired {
				return fmt.Errorf("%s: the rack has no blade %q: it has %s", profiles.Show(f.Path), model.Clip(args[1]), strings.Join(bladeIDs(f.Profile), ", "))
			}
			result, err := s.lead(c, wizard.Options{Store: storeOf(f), Run: procedure.Options{Mode: procedure.OneBlade, Blade: args[1]}})
			if row, _ := solver.Plan(result.Profile).Blade(args[1]); err == nil && !row.Ready {
				err = no{}
			}
			return err
		},
	})
}

func (s *settings) isolate() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "isolate PROFILE",
		Short: "Only the safety prompts before hands go near the arbor; status 0 when they were passed",
		Args:  upTo(1, "PROFILE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.read(args[0])
			if err == nil {
				_, err = s.lead(c, wizard.Options{Store: storeOf(f), Run: procedure.Options{Mode: procedure.IsolateOnly}})
			}
			return err
		},
	})
}

func (s *settings) practice() *cobra.Command {
	var keep string
	var seed uint64
	c := &cobra.Command{
		Use:   "practice [PROFILE]",
		Short: "The same against a simulated saw: the way to look around without one",
		Args:  upTo(0, "PROFILE"),
		RunE: func(c *cobra.Command, args []string) error {
			o := wizard.Options{Store: wizard.Store{Profile: profiles.Demo()}, Practice: true, Seed: seed}
			if len(args) > 0 {
				f, err := s.read(args[0])
				if err != nil {
					return err
				}
				o.Store.Profile = f.Profile
			}
			if keep != "" {
				if _, err := os.Lstat(keep); err == nil {
					return fmt.Errorf("%s: is there already: choose another name for --keep", profiles.Show(keep))
				}
				o.Store = begin(keep, o.Store.Profile, func() error { return nil })
			}
			if !c.Flags().Changed("seed") {
				o.Seed = rand.Uint64()
			}
			o.Run.Seed = o.Seed
			_, err := s.lead(c, o)
			return err
		},
	}
	c.Flags().StringVar(&keep, "keep", "", "write the profile to a new `file`; else nothing is written")
	c.Flags().Uint64Var(&seed, "seed", 0, "`number` of a simulated saw: the same number, the same saw and words")
	return s.faced(c)
}

// faced gives a command of the wizard what all of them take.
func (s *settings) faced(c *cobra.Command) *cobra.Command {
	c.Flags().BoolVar(&s.plain, "plain", false, "numbered questions, one line an answer: for screen readers, serial consoles and scripts")
	c.ValidArgsFunction = s.complete
	return c
}

// lead runs the wizard on the face that was asked for, or says why it cannot.
func (s *settings) lead(c *cobra.Command, o wizard.Options) (wizard.Result, error) {
	here := isTerminal(c.InOrStdin()) && isTerminal(c.OutOrStdout())
	plain := s.plain || here && o.Store.Profile.Name != "" && (os.Getenv("TERM") == "dumb" || os.Getenv("ACCESSIBLE") != "")
	realSaw := !o.Practice && o.Store.Save != nil
	switch {
	case realSaw && !isTerminal(c.InOrStdin()):
		return wizard.Result{}, errors.New("a real saw is set up by somebody who stands before it, not through a pipe: run this in a terminal; only practice may be piped")
	case !plain && !here:
		return wizard.Result{}, fmt.Errorf("there is no terminal here for the full screen: run %s", plainly(c))
	case !plain && os.Getenv("TERM") == "dumb":
		return wizard.Result{}, fmt.Errorf("this terminal cannot show a full screen: run %s", plainly(c))
	}
	o.In, o.Out, o.Judge = c.InOrStdin(), c.OutOrStdout(), solver.Plan
	o.NoColor, o.ASCII, o.Light = s.noColor, s.ascii, !background.Dark(s.dark, s.light, os.Getenv("COLORFGBG"))
	o.Copy = func(path string, p model.Profile) error { _, err := profiles.Create(path, p); return err }
	if !o.Practice {
		o.Run.Seed, o.Seed = rand.Uint64(), rand.Uint64()
	}
	face := wizard.Run
	if plain {
		face = wizard.RunPlain
	}
	r, err := face(o)
	switch {
	case r.Unsaved:
		return r, err
	case err != nil:
		return r, no{err}
	case !r.Finished:
		return r, no{}
	}
	return r, nil
}

// plainly is what to run where there is no full screen.
func plainly(c *cobra.Command) string {
	if c.Flags().Lookup("plain") == nil {
		return "sawdatum practice --plain"
	}
	return c.CommandPath() + " --plain"
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(f.Fd())
}

// read reads a profile by its name in the folder or by its path.
func (s *settings) read(nameOrPath string) (profiles.File, error) {
	path, err := profiles.Resolve(nameOrPath, profiles.Dir(s.dir))
	if err != nil {
		return profiles.File{}, err
	}
	return profiles.Read(path)
}

// openOrBegin opens a profile, or begins a new saw where there is none.
func (s *settings) openOrBegin(nameOrPath string) (wizard.Store, error) {
	f, err := s.read(nameOrPath)
	if !errors.Is(err, fs.ErrNotExist) {
		return storeOf(f), err
	}
	path, err := profiles.Resolve(nameOrPath, profiles.Dir(s.dir))
	if err != nil {
		return wizard.Store{}, err
	}
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	if err := profiles.CheckName(name); err != nil {
		return wizard.Store{}, err
	}
	return begin(path, model.Profile{Version: model.FormatVersion, Name: name}, func() error {
		if filepath.Dir(path) != filepath.Clean(profiles.Dir(s.dir)) {
			return nil // the user's own folder: it is there, or the name is wrong
		}
		return profiles.Prepare(filepath.Dir(path))
	}), nil
}

// storeOf is a profile that is there: each save goes on from the one before.
func storeOf(f profiles.File) wizard.Store {
	return wizard.Store{Path: f.Path, Profile: f.Profile, Save: func(p model.Profile) (err error) {
		f, _, err = f.Save(p)
		return err
	}}
}

// begin is a profile whose file comes to be with the first save, so that who leaves
// before it leaves nothing behind. prepare makes its folder ready.
func begin(path string, p model.Profile, prepare func() error) wizard.Store {
	var f profiles.File
	return wizard.Store{Path: path, Profile: p, Save: func(p model.Profile) (err error) {
		if f.Path != "" {
			f, _, err = f.Save(p)
			return err
		}
		if err := prepare(); err != nil {
			return err
		}
		f, err = profiles.Create(path, p)
		return err
	}}
}

// shelf is what the start screen needs of the profile folder.
func (s *settings) shelf() wizard.Shelf {
	return wizard.Shelf{
		List: func() ([]wizard.Found, error) {
			entries, err := profiles.List(profiles.Dir(s.dir))
			var out []wizard.Found
			for _, e := range entries {
				found := wizard.Found{Path: e.Path, Name: e.Name, Saw: e.Saw, Last: e.Last, By: e.By, Fault: e.Fault}
				for _, row := range solver.Plan(e.Profile).Blades {
					found.All++
					if row.Ready {
						found.Ready++
					}
				}
				out = append(out, found)
			}
			return out, err
		},
		Open: func(path string) (wizard.Store, error) {
			f, err := profiles.Read(path)
			return storeOf(f), err
		},
		Create: func(name string) (wizard.Store, error) {
			if err := profiles.CheckName(name); err != nil {
				return wizard.Store{}, err
			}
			if _, err := s.read(name); !errors.Is(err, fs.ErrNotExist) {
				return wizard.Store{}, fmt.Errorf("there is a profile %s already: choose another name, or open it", name)
			}
			return s.openOrBegin(name)
		},
		Practice: func() (wizard.Store, error) { return wizard.Store{Profile: profiles.Demo()}, nil },
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
		if f, err := s.read(args[0]); err == nil && c.Name() == "blade" {
			out = bladeIDs(f.Profile)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func bladeIDs(p model.Profile) []string {
	var ids []string
	for _, b := range p.Rack() {
		ids = append(ids, b.ID)
	}
	return ids
}

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
			plan := solver.Plan(f.Profile)
			plan.Reasons = append(plan.Reasons, solver.Outlook(f.Profile, plan)...)
			if asJSON {
				err = profiles.WritePlanJSON(c.OutOrStdout(), f.Profile, plan)
			} else {
				_, err = io.WriteString(c.OutOrStdout(), profiles.PlanText(f.Profile, plan))
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

// stack works out one stack from the command line.
func stack() *cobra.Command {
	var want, within, highest string
	var rings []string
	var asJSON bool
	c := &cobra.Command{
		Use:   "stack --want LEN --ring LEN[xN]...",
		Short: "Work out one stack of rings",
		Args:  upTo(0),
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

// check lists what is wrong with profiles, and what is not filled in yet.
func (s *settings) check() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:               "check PROFILE...",
		Short:             "Say what is wrong with profiles; status 1 with findings",
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: s.complete,
		RunE: func(c *cobra.Command, args []string) error {
			all := profiles.Findings{}
			for _, arg := range args {
				f, err := s.read(arg)
				var faults profiles.Findings
				if err != nil && !errors.As(err, &faults) {
					return err
				}
				all = append(append(all, faults...), f.Unfinished...)
			}
			if asJSON {
				if err := printJSON(c.OutOrStdout(), findingsJSON(all)); err != nil {
					return err
				}
			} else if len(all) > 0 {
				fmt.Fprintln(c.OutOrStdout(), all)
			}
			if len(all) > 0 {
				return no{}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

func findingsJSON(fs profiles.Findings) []map[string]any {
	out := []map[string]any{}
	for _, f := range fs {
		out = append(out, map[string]any{"file": f.File, "line": f.Line, "column": f.Column, "path": f.Path, "fault": f.Fault, "cure": f.Cure, "missing": f.Missing})
	}
	return out
}

func (s *settings) export() *cobra.Command {
	var as, file string
	var opt profiles.ExportOptions
	c := &cobra.Command{
		Use:               "export PROFILE --as " + strings.Join(profiles.Exports(), "|"),
		Short:             "For the other shift, the wall, the blade boxes, the spreadsheet",
		Args:              upTo(1, "PROFILE"),
		ValidArgsFunction: s.complete,
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.read(args[0])
			if err != nil {
				return err
			}
			opt.Now = time.Now()
			plan := solver.Plan(f.Profile)
			plan.Reasons = append(plan.Reasons, solver.Outlook(f.Profile, plan)...)
			if file == "" {
				return profiles.Export(c.OutOrStdout(), as, f.Profile, plan, opt)
			}
			return profiles.ExportFile(file, as, f.Profile, plan, opt)
		},
	}
	c.Flags().StringVar(&as, "as", "", "`way` of handing it on: "+strings.Join(profiles.Exports(), ", "))
	c.Flags().StringVarP(&file, "output", "o", "", "`file` to write; else standard output")
	c.Flags().BoolVar(&opt.BothUnits, "both-units", false, "lengths in millimetres and in inches")
	c.MarkFlagRequired("as")
	return c
}

// take takes over the copy of another shift.
func (s *settings) take() *cobra.Command {
	var into, side string
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "Take over another shift's copy of a profile",
		Args:  upTo(1, "FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if side != "" && side != string(profiles.Mine) && side != string(profiles.Theirs) {
				return fmt.Errorf("--take %q is not a side: write mine or theirs", model.Clip(side))
			}
			theirs, err := profiles.Read(args[0])
			if err != nil {
				return err
			}
			if into == "" {
				into = theirs.Profile.Name
			}
			out := c.OutOrStdout()
			mine, err := s.read(into)
			if errors.Is(err, fs.ErrNotExist) {
				store, err := s.openOrBegin(into)
				if err == nil {
					err = store.Save(theirs.Profile)
				}
				if err == nil {
					fmt.Fprintf(out, "%s is new here, with %s\n", profiles.Show(store.Path), counted(len(theirs.Profile.Records)))
				}
				return err
			}
			if err != nil {
				return err
			}
			merged, differences := profiles.Merge(mine.Profile, theirs.Profile)
			if side != "" {
				merged = profiles.Take(mine.Profile, theirs.Profile, profiles.Side(side))
			} else if len(differences) > 0 {
				for _, d := range differences {
					fmt.Fprintln(out, d)
				}
				return no{fmt.Errorf("%s: the two copies do not agree and nothing was written: choose with --take mine or --take theirs", profiles.Show(mine.Path))}
			}
			if _, _, err := mine.Save(merged); err != nil {
				return err
			}
			fmt.Fprintf(out, "%s: %s taken over\n", profiles.Show(mine.Path), counted(len(merged.Records)-len(mine.Profile.Records)))
			return nil
		},
	}
	c.Flags().StringVar(&into, "into", "", "`profile` to take it into; else the one of the same name")
	c.Flags().StringVar(&side, "take", "", "`side` that counts where the two do not agree: mine or theirs")
	return c
}

func counted(records int) string {
	if records == 1 {
		return "1 record"
	}
	return fmt.Sprint(records, " records")
}

func manual() *cobra.Command {
	return &cobra.Command{
		Use:   "man [COMMAND]",
		Short: "Write the manual page of the program, or of one command",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			of, rest, err := c.Root().Find(args)
			if err == nil && len(rest) > 0 {
				err = knownCommand(c.Root(), args)
			}
			if err != nil {
				return err
			}
			return doc.GenMan(of, &doc.GenManHeader{Section: "1", Source: "sawdatum " + c.Root().Version}, c.OutOrStdout())
		},
	}
}

// upTo takes the arguments named, the first of them at least, and says which is
// missing or one too many.
func upTo(least int, names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return fmt.Errorf("%s is missing: %s", names[len(args)], c.UseLine())
		case len(args) > len(names):
			return fmt.Errorf("%q is not wanted here: %s --help shows what is", model.Clip(args[len(names)]), c.CommandPath())
		}
		return nil
	}
}

func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	mean := ":"
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		mean = "; did you mean " + strings.Join(near, " or ") + "?"
	}
	return fmt.Errorf("%q is no command%s sawdatum --help lists them", model.Clip(args[0]), mean)
}

// version is that of the module as it was built.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}
