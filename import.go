package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/plain"
)

// take takes over the copy of another shift.
func (s *settings) take() *cobra.Command {
	var into, side, blade string
	c := &cobra.Command{
		Use:         "import FILE",
		Short:       "Take over another shift's copy of a profile, or one blade of another saw",
		Annotations: byStatus,
		Args:        upTo(1, "FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if side != "" && side != string(profiles.Mine) && side != string(profiles.Theirs) {
				return fmt.Errorf("--take %q is not a side: write mine or theirs", model.Clip(side))
			}
			theirs, err := profiles.Read(args[0])
			if errors.Is(err, fs.ErrNotExist) && c.Flags().Changed("blade") { // another saw of the folder, by its name
				theirs, err = s.read(args[0])
			}
			if err != nil {
				return err
			}
			if c.Flags().Changed("blade") {
				return s.moveBlade(c, theirs, into, blade)
			}
			if into == "" {
				into = theirs.Profile.Name
			}
			out := c.OutOrStdout()
			mine, err := s.read(into)
			if errors.Is(err, fs.ErrNotExist) {
				if err := inTime(c, theirs, theirs.Profile); err != nil {
					return err
				}
				store, err := s.openOrBegin(into)
				if err == nil {
					_, err = store.Save(theirs.Profile)
				}
				if err == nil {
					mine, err = profiles.Read(store.Path)
				}
				if err == nil {
					_, err = mine.Adopt(theirs)
				}
				if err == nil {
					fmt.Fprintf(out, "%s is new here, with %s\n", text.Show(store.Path), counted(len(theirs.Profile.Records), "record"))
				}
				return err
			}
			if err != nil {
				return err
			}
			merged, err := joined(c, mine, theirs, profiles.Side(side))
			if err != nil {
				return err
			}
			if err := inTime(c, theirs, merged); err != nil {
				return err
			}
			saved, report, err := mine.Save(merged)
			if err == nil {
				_, err = saved.Adopt(theirs)
			}
			if err != nil {
				return err
			}
			if report.Kept != "" {
				fmt.Fprintf(out, "%s: was in an older format or layout and is kept as it was in %s\n", text.Show(mine.Path), text.Show(report.Kept))
			}
			fmt.Fprintf(out, "%s: %s taken over\n", text.Show(mine.Path), counted(profiles.Added(mine.Profile, theirs.Profile), "record"))
			for _, r := range solver.Rejudged(mine.Profile, merged, time.Now()) {
				fmt.Fprintln(out, text.Show(model.Sentence(r.Text)))
			}
			return nil
		},
	}
	c.Flags().StringVar(&into, "into", "", "`profile` to take it into; else the one of the same name")
	c.Flags().StringVar(&side, "take", "", "`side` that counts where the two do not agree: mine or theirs")
	c.Flags().StringVar(&blade, "blade", "", "one `blade` of FILE, with its figures, for the rack of the saw of --into")
	c.RegisterFlagCompletionFunc("into", s.completeProfile)
	c.RegisterFlagCompletionFunc("take", cobra.FixedCompletions([]string{"mine", "theirs"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// moveBlade takes one blade of another saw onto the rack of a saw, with its figures.
func (s *settings) moveBlade(c *cobra.Command, from profiles.File, into, blade string) error {
	if into == "" {
		return errors.New("--into is missing: name the profile of the saw that the blade goes to")
	}
	mine, err := s.read(into)
	if err != nil {
		return err
	}
	id, err := bladeNamed(from.Profile, blade)
	if err != nil {
		return fmt.Errorf("%s: %w", text.Show(from.Path), err)
	}
	moved, told, err := profiles.MoveBlade(mine.Profile, from.Profile, id)
	if err != nil {
		return no{fmt.Errorf("%s: nothing was written: %w", text.Show(mine.Path), err)}
	}
	if _, _, err := mine.Save(moved); err != nil {
		return err
	}
	out := c.OutOrStdout()
	fmt.Fprintf(out, "%s: the %s is on the rack, with its figures\n", text.Show(mine.Path), text.Show(from.Profile.BladeName(id)))
	for _, text := range told {
		fmt.Fprintln(out, text)
	}
	if from.Profile.Reference != id {
		fmt.Fprintf(out, "if it leaves the other saw for good, take it off the rack there: %s\n", text.Show(from.Path))
	}
	return nil
}

// joined is what two copies come to. Where their heads do not agree somebody chooses: a
// side with --take, or in a terminal each value by itself.
func joined(c *cobra.Command, mine, theirs profiles.File, side profiles.Side) (model.Profile, error) {
	merged, differences := profiles.Merge(mine.Profile, theirs.Profile)
	if len(differences) == 0 {
		return merged, together(c, mine, merged)
	}
	sides := map[string]profiles.Side{}
	switch {
	case side != "" && mine.Profile.Name != theirs.Profile.Name:
		return model.Profile{}, no{fmt.Errorf("%s: this is %s and the copy is of %s, which may be another saw: import without --take, in a terminal, or give both one name first", text.Show(mine.Path), text.Show(mine.Profile.Name), text.Show(theirs.Profile.Name))}
	case side != "":
		for _, d := range differences {
			sides[d.Path] = side
		}
	case isTerminal(c.InOrStdin()) && isTerminal(c.OutOrStdout()):
		fmt.Fprintf(c.OutOrStdout(), "The two copies do not agree on %s. Mine is %s, theirs is %s.\n", counted(len(differences), "value"), text.Show(mine.Path), text.Show(theirs.Path))
		values := make([]wizard.Value, len(differences))
		for i, d := range differences {
			values[i] = wizard.Value(d)
		}
		chosen, err := plain.Settle(c.InOrStdin(), c.OutOrStdout(), values)
		if err != nil {
			return model.Profile{}, no{fmt.Errorf("%s: nothing was written: %w", text.Show(mine.Path), err)}
		}
		for i, d := range differences {
			sides[d.Path] = profiles.Mine
			if chosen[i] {
				sides[d.Path] = profiles.Theirs
			}
		}
	default:
		for _, d := range differences {
			fmt.Fprintln(c.OutOrStdout(), d)
		}
		return model.Profile{}, no{fmt.Errorf("%s: the two copies do not agree and nothing was written: choose with --take mine or --take theirs", text.Show(mine.Path))}
	}
	merged, err := profiles.Choose(mine.Profile, theirs.Profile, sides)
	var faults text.Findings
	if errors.As(err, &faults) {
		for _, f := range faults {
			fmt.Fprintln(c.OutOrStdout(), f)
		}
		err = no{fmt.Errorf("%s: what was chosen does not go together and nothing was written: %s: choose again", text.Show(mine.Path), faults[0].Fault)}
	}
	return merged, err
}

// together says why the records of two copies cannot stand in one file; nil: they can.
func together(c *cobra.Command, mine profiles.File, merged model.Profile) error {
	var first *model.Finding
	for _, f := range merged.Validate() {
		if !f.Missing {
			fmt.Fprintln(c.OutOrStdout(), f)
			first = cmp.Or(first, &f)
		}
	}
	if first == nil {
		return nil
	}
	return no{fmt.Errorf("%s: the two copies do not go together and nothing was written: %s: %s", text.Show(mine.Path), first.Fault, first.Cure)}
}

// inTime asks whether a profile is to be written though records of it are dated well
// after now; nil: it is, or there are none.
func inTime(c *cobra.Command, theirs profiles.File, p model.Profile) error {
	ahead := profiles.Ahead(p, time.Now())
	if len(ahead) == 0 {
		return nil
	}
	what := fmt.Sprintf("%s dated well after now: %s", counted(len(ahead), "record"), ahead[0].Error())
	if !isTerminal(c.InOrStdin()) || !isTerminal(c.OutOrStdout()) {
		return no{fmt.Errorf("%s: nothing was written, for it would have %s; or import in a terminal", text.Show(theirs.Path), what)}
	}
	yes, err := plain.Agree(c.InOrStdin(), c.OutOrStdout(), "The profile would have "+what+". The saw cannot be set up further before that.", "Take them over as they are")
	if err == nil && !yes {
		err = errors.New("not agreed to")
	}
	if err != nil {
		return no{fmt.Errorf("%s: nothing was written: %w", text.Show(theirs.Path), err)}
	}
	return nil
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
