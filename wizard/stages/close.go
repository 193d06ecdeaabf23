package stages

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

var left = procedure.Fact{Name: "saw left"} // how the saw was left at the end

// unreadyOn reports whether a blade is on that must not be left for the next shift.
func unreadyOn(c context) bool {
	on, known := c.Lock.On()
	row, _ := c.Plan.Row(on.Blade)
	return known && on.Blade != "" && !row.Usable()
}

// emptiedRow takes off a blade that is not ready, before the saw is left.
var emptiedRow = row{
	Name: "emptied", Stage: 11, Title: form.Said("No blade stays on that is not ready: empty the saw"),
	When: unreadyOn, Done: func(c context) bool { return !unreadyOn(c) },
	Act: clearRow.Act, Why: clearRow.Why, Help: clearRow.Help, Fields: clearRow.Fields, Picture: clearRow.Picture,
}

// leaveRow has the saw left empty, or with a ready blade and its knife.
var leaveRow = row{
	Name: "left", Stage: 11, Title: form.Said("How the saw is left"),
	When: func(c context) bool { _, known := c.Lock.On(); return known },
	Done: func(c context) bool { return c.Fact(left) != "" },
	Act: procedure.Paper{
		Says: form.Lines("Leave it empty, isolated; or main switch off, blade and knife ready."),
		Accept: func(t *taking) {
			if on, _ := t.Lock.On(); on.Blade != "" && strings.EqualFold(t.Text("left"), "empty") {
				t.Begin(&emptyRow, "")
				return
			}
			t.Keep(left, t.Text("left"))
		},
	},
	Picture: func(c context, a answers) procedure.Picture {
		on, _ := c.Lock.On()
		if strings.EqualFold(strings.TrimSpace(a["left"]), "empty") {
			on = interlock.Fit{}
		}
		return shop.OnArbor(c, on.Blade, strings.Fields(on.Rings))
	},
	Help: []string{"The next shift takes the saw as it stands.", "To leave another blade on: main switch off, then the swap to it, under other work."},
	Fields: func(c context) []field {
		on, _ := c.Lock.On()
		if on.Blade == "" {
			return []field{form.Word("left", "The saw stays", "empty")}
		}
		called := c.Name(on.Blade)
		if b, _ := c.Profile.BladeByID(on.Blade); len(form.Twins(c, b)) == 0 {
			called = strconv.Itoa(b.Teeth) // its teeth tell it from the others
		}
		return []field{field{Key: "left", Label: "What stays on", Hint: "such as " + called + "; or the word empty: it comes off", Kind: procedure.FieldText}.With(func(text string) error {
			if strings.EqualFold(text, "empty") {
				return nil
			}
			if blade, err := bladeNamed(c, text); err != nil || blade != on.Blade {
				return fmt.Errorf("%q: by the records the %s is on; another one goes on by a swap", model.Clip(text), c.Name(on.Blade))
			}
			return nil
		})}
	},
}

var handedOver = procedure.Fact{Name: "handed over"}

// handoverRow is what the other shift has to know, where there is one and something was
// recorded since it last wrote.
var handoverRow = row{
	Name: "handover", Stage: 11, Look: procedure.Handover, Title: form.Said("For the other shift: what has changed"),
	When: func(c context) bool {
		shifts := model.ShiftsOf(c.All())
		return c.Who != "" && shifts.Other != "" && shifts.By == c.Who
	},
	Done: func(c context) bool { return c.Fact(handedOver) != "" },
	Act: procedure.Paper{
		Says: form.Lines("Tell the other shift, or leave it a line. Your copy of the profile goes along."),
		Accept: func(t *taking) {
			if t.Typed("text") {
				t.Record(record{Kind: model.Note, Text: t.Text("text")})
			}
			t.Keep(handedOver, "told")
		},
	},
	Help:   []string{"Without your copy of the profile the other shift knows only what the saw shows: sawdatum import takes it over. The same as text: handover at the next place, or sawdatum export --as handover."},
	Fields: form.Fields(form.Optional(field{Key: "text", Label: "A line for the other shift (may stay empty)", Hint: "such as: caliper dropped, checked against its block", Kind: procedure.FieldText})),
}

// closeRow tells where every blade stands, and hands the profile on.
var closeRow = row{
	Picture: func(c context, _ answers) procedure.Picture { return shop.RackPicture(c, "") },
	Name:    "close", Stage: 11, Look: procedure.Result, Title: form.Said("Where every blade stands"),
	Act: procedure.Paper{
		Says: func(c context) []string {
			if len(c.Options.Exports) == 0 {
				return append(notReady(c), "Type done to leave.")
			}
			if c.Options.Unkept {
				return append(notReady(c), "Type show "+strings.Join(c.Options.Shows, ", show ")+", or done to leave.")
			}
			return append(notReady(c), "Type "+strings.Join(c.Options.Exports, ", ")+" (card both: in both units), or done to leave.")
		},
		Accept: func(t *taking) {
			if e := t.Export("done"); e.As != "" {
				t.Hand(e)
				return
			}
			t.Finish()
		},
	},
	Figure: func(c context, _ answers) procedure.Figure {
		ready, due := counted(c)
		caption := "blades ready"
		if due > 0 {
			caption = fmt.Sprintf("ready, %d due", due)
		}
		return procedure.Figure{Text: fmt.Sprintf("%d/%d", ready, len(c.Plan.Blades)), Caption: caption}
	},
	Help: []string{"card and html are for the wall, labels for the boxes of the blades, yaml is a copy of the profile for the other shift to import, csv and json are for other programs, handover tells the other shift what changed."},
	Fields: func(c context) []field {
		if len(c.Options.Exports) == 0 {
			return []field{form.Word("done", "Done for now", "done")}
		}
		return []field{{Key: "done", Label: "For others, or done", Hint: "such as done", Kind: procedure.FieldExport, Options: c.Options.Exports, Shows: c.Options.Shows, Word: "done"}}
	},
}

// papersRow shows a paper, or writes it, without going to the closing row for it.
var papersRow = row{
	Name: "papers", Stage: 11, Title: form.Said("See or write a card, labels or another paper"), Also: "print show page csv json handover",
	When: func(c context) bool { return shop.WholeRack(c) && len(c.Options.Exports) > 0 },
	Act: procedure.Paper{
		Says: func(c context) []string {
			return []string{"Type " + strings.Join(c.Options.Exports, ", ") + " (card both: in both units): it is written beside the profile. None to leave.", "To see one here first type show before it: show card."}
		},
		Accept: func(t *taking) {
			e := t.Export("paper")
			if t.Hand(e); e.Shown {
				t.Stay() // it can be written now
			}
		},
	},
	Why: form.Lines("A paper tells the blades as they stand now: the old one comes down."),
	Fields: func(c context) []field {
		return []field{{Key: "paper", Label: "Which paper", Hint: "one of them, such as show card; or none", Kind: procedure.FieldExport, Options: c.Options.Exports, Shows: c.Options.Shows, Word: "none"}}
	},
}

// counted are how many blades are ready, and how many due to be proved.
func counted(c context) (ready, due int) {
	for _, b := range c.Plan.Blades {
		switch b.State {
		case model.StateReady:
			ready++
		case model.StateDue:
			due++
		}
	}
	return ready, due
}

// notReady says which blades stay in their boxes.
func notReady(c context) []string {
	var names []string
	for _, b := range c.Plan.Blades {
		if !b.Usable() {
			names = append(names, c.Name(b.ID))
		}
	}
	papers := []string{"Hang up a new card, labels into the boxes."}
	if c.Options.Unkept {
		papers = nil
	}
	switch {
	case len(names) == len(c.Plan.Blades):
		return []string{"No blade is ready yet: each stays in its box."}
	case len(names) == 0:
		if _, due := counted(c); due > 0 {
			return append([]string{fmt.Sprintf("Every blade may be used; %d to be proved with the next swap.", due)}, papers...)
		}
		return append([]string{"Every blade is ready."}, papers...)
	case len(names) == 1:
		return append(papers, "In its box, not ready: the "+names[0]+".")
	}
	return append(papers, fmt.Sprintf("%d blades are not ready and stay in their boxes.", len(names)))
}

// holdRow is the sign of isolation alone: hands may be in.
var holdRow = row{
	Name: "hold", Stage: 1, Look: procedure.Sign, Title: form.Said("ISOLATED: hands may be in"),
	Done: func(c context) bool { return c.Fact(held) != "" },
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			return []string{
				fmt.Sprintf("Isolated since %s by %s. Do what has to be done at the arbor.", c.Power.Since.Local().Format("15:04"), c.Power.By),
				"The sign stays until hands are out and the saw is closed.",
				"Power comes back only by the checklist of swap, setup or blade.",
			}
		},
		Accept: func(t *taking, h interlock.Hands) {
			t.Does(interlock.Handled(h))
			t.Does(interlock.OtherOn())
			t.Keep(held, "closed")
		},
	},
	Why: form.Lines("Keep the plug or the key on you until you have typed it."), Help: gateCautions,
	Fields: form.Fields(form.Word("closed", "Hands out, throat plate in, saw closed", "closed")),
}

var held = procedure.Fact{Name: "hands out again"}
