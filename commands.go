package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/background"
	"example.com/sawdatum/wizard/plain"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/screen"
)

// setup leads through the whole work at a saw.
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

// blade brings one blade in again.
func (s *settings) blade() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "blade PROFILE BLADE",
		Short: "Run one blade again: sharpened, new, or after a failed check cut",
		Args:  upTo(2, "PROFILE", "BLADE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, blade, err := s.bladeOf(args)
			if err != nil {
				return err
			}
			return s.about(c, f, procedure.Options{Mode: procedure.OneBlade, Blade: blade})
		},
	})
}

// swap changes to another blade that may be used.
func (s *settings) swap() *cobra.Command {
	var prove bool
	c := s.faced(&cobra.Command{
		Use:   "swap PROFILE BLADE",
		Short: "Change to another blade: isolation, rings and mark, knife, power-up, first start",
		Args:  upTo(2, "PROFILE", "BLADE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, row, err := s.usable(args, true) // where a pair has to make it ready, a proof is offered
			if err != nil {
				return err
			}
			return s.about(c, f, procedure.Options{Mode: procedure.Swap, Blade: row.ID, Proves: prove, Offers: !prove})
		},
	})
	c.Flags().BoolVar(&prove, "prove", false, "make a proof of it: the first strip before the blade that is on comes off")
	return c
}

// prove rips strips of one blade and of the reference.
func (s *settings) prove() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "prove PROFILE BLADE",
		Short: "Rip strips of a blade and of the reference under one fence lock: is it still in?",
		Args:  upTo(2, "PROFILE", "BLADE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, row, err := s.usable(args, true)
			if err != nil {
				return err
			}
			return s.about(c, f, procedure.Options{Mode: procedure.Prove, Blade: row.ID})
		},
	})
}

// bladeOf reads a profile and finds the blade of it that is named, by its id.
func (s *settings) bladeOf(args []string) (profiles.File, string, error) {
	f, err := s.work(args[0])
	if err != nil {
		return f, "", err
	}
	blade, err := bladeNamed(f.Profile, args[1])
	if err != nil {
		return f, "", fmt.Errorf("%s: %w", text.Show(f.Path), err)
	}
	return f, blade, nil
}

// usable reads a profile and finds a blade in it that may be worked with; for a proof also one
// that a pair of strips can make ready again.
func (s *settings) usable(args []string, proof bool) (profiles.File, model.BladeRow, error) {
	f, blade, err := s.bladeOf(args)
	if err != nil {
		return f, model.BladeRow{}, err
	}
	row, _ := solver.Judge(f.Profile, time.Now()).Row(blade)
	if why := barred(row, proof); why != "" {
		return f, row, no{fmt.Errorf("%s: the %s %s", text.Show(f.Path), f.Profile.BladeName(blade), why)}
	}
	return f, row, nil
}

// barred is why a blade is not swapped to, or where a proof is asked for not proved, and what
// helps; empty: it may be.
func barred(row model.BladeRow, proof bool) string {
	if row.Usable() || row.KnifeOnly || row.State == model.StateCheck && proof {
		return ""
	}
	is, way := "is not ready", "sawdatum blade brings it in"
	switch row.State {
	case model.StateCheck:
		is, way = "is to be checked before it is used", "sawdatum prove, or swap --prove, rips a pair of strips"
	case model.StateNotClosed:
		way = "sawdatum setup goes on with it"
	}
	return is + ": " + against(row) + ": " + way
}

// against is what speaks against a blade most.
func against(row model.BladeRow) string {
	if all := row.Against(); len(all) > 0 {
		return all[0].Text
	}
	return "it was not compared yet"
}

// toPair is why a blade that is not swapped to is to be proved, which makes it ready; empty: it is not.
func toPair(row model.BladeRow) string {
	if barred(row, false) == "" || barred(row, true) != "" {
		return ""
	}
	return against(row)
}

// about runs what is about one blade; the status tells whether it may be used afterwards.
func (s *settings) about(c *cobra.Command, f profiles.File, o procedure.Options) error {
	result, err := s.lead(c, wizard.Options{Store: storeOf(f), Run: o})
	if row, _ := solver.Judge(result.Profile, time.Now()).Row(o.Blade); err == nil && !row.Usable() {
		return no{}
	}
	return err
}

// isolate goes through the gates before hands alone.
func (s *settings) isolate() *cobra.Command {
	return s.faced(&cobra.Command{
		Use:   "isolate PROFILE",
		Short: "Ask only the safety prompts before hands go near the arbor; status 0 when they were passed",
		Args:  upTo(1, "PROFILE"),
		RunE: func(c *cobra.Command, args []string) error {
			f, err := s.work(args[0])
			if err == nil {
				_, err = s.lead(c, wizard.Options{Store: storeOf(f), Run: procedure.Options{Mode: procedure.IsolateOnly}})
			}
			return err
		},
	})
}

// practice sets up a saw that is simulated.
func (s *settings) practice() *cobra.Command {
	var keep string
	var seed uint64
	c := &cobra.Command{
		Use:   "practice [PROFILE]",
		Short: "Set up a simulated saw: the way to look around without one",
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
					return fmt.Errorf("%s: is there already: choose another name for --keep", text.Show(keep))
				}
				if len(args) > 0 { // simulated readings are not to be taken for those of the real saw
					o.Store.Profile.Name = "practice-" + o.Store.Profile.Name
				}
				o.Store = s.begin(keep, o.Store.Profile)
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
	inLines := s.plain || here && o.Store.Profile.Name != "" && (os.Getenv("TERM") == "dumb" || os.Getenv("ACCESSIBLE") != "")
	told, isOutlet := c.OutOrStdout().(*outlet)
	realSaw := !o.Practice && o.Store.Save != nil
	switch {
	case isOutlet && told.closed:
		return wizard.Result{}, errClosed
	case realSaw && !isTerminal(c.InOrStdin()):
		return wizard.Result{}, errors.New("a real saw is set up by somebody who stands before it, not through a pipe: run this in a terminal; only practice may be piped")
	case !inLines && !here:
		return wizard.Result{}, fmt.Errorf("there is no terminal here for the full screen: run %s", plainly(c))
	case !inLines && os.Getenv("TERM") == "dumb":
		return wizard.Result{}, fmt.Errorf("this terminal cannot show a full screen: run %s", plainly(c))
	}
	o.In, o.Out = c.InOrStdin(), c.OutOrStdout()
	o.NoColor, o.ASCII, o.Light = s.noColor, s.ascii, !background.Dark(s.dark, s.light, os.Getenv("COLORFGBG"))
	o.Run.Exports, o.Run.Shows = export.Ways(), export.OnScreen()
	o.Copy = func(path string, p model.Profile) error { _, err := profiles.Create(path, p); return err }
	if !o.Practice {
		o.Run.Seed, o.Seed = rand.Uint64(), rand.Uint64()
	}
	face := screen.Run
	if inLines {
		face, o.Out = plain.Run, foldedLines{o.Out}
	}
	r, err := face(o)
	switch {
	case r.Unsaved != nil:
		return r, no{fmt.Errorf("the last answers are not saved: %w", r.Unsaved)}
	case err != nil:
		return r, no{err}
	case !r.Finished && r.Profile.Name != "": // else the start screen was left with nothing chosen
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

// bladeNamed is the id of a blade that is named by it, or by its label: of the rack,
// or one that left it and may be back. An id as it stands comes before any label, and a whole
// label before the beginning of a word of one: rip for 24-tooth rip, as on the start screen. A number is
// that of its teeth.
func bladeNamed(p model.Profile, name string) (string, error) {
	if b, ok := p.BladeByID(name); ok {
		return b.ID, nil
	}
	for _, retired := range []bool{false, true} {
		for _, b := range p.Blades {
			if b.Retired == retired && strings.EqualFold(b.Label, name) {
				return b.ID, nil
			}
		}
	}
	var called, toothed []string
	for _, b := range p.Rack() {
		called = append(called, b.Name())
		if strconv.Itoa(b.Teeth) == name {
			toothed = append(toothed, b.ID)
		}
	}
	if _, err := strconv.Atoi(name); err == nil { // of no list: its teeth
		switch len(toothed) {
		case 0:
		case 1:
			return toothed[0], nil
		default:
			return "", fmt.Errorf("more than one blade has %s teeth: type %s", name, model.Either(toothed))
		}
	} else if i, err := model.ChooseWord(name, called); err == nil {
		return p.Rack()[i].ID, nil
	} else if errors.Is(err, model.ErrSeveral) {
		return "", err
	}
	return "", fmt.Errorf("the rack has no blade %q: it has %s", model.Clip(name), strings.Join(bladeIDs(p), ", "))
}

func bladeIDs(p model.Profile) []string {
	var ids []string
	for _, b := range p.Rack() {
		ids = append(ids, b.ID)
	}
	return ids
}
