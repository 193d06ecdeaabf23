package stages

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

// longestRunDown is what a saw in order needs to stand still (HSE WIS16, WIS38). The rules
// of the United States leave it to the saw's manual.
const longestRunDown = 10 * time.Second

// shortestRunDown is less than any blade needs; a second press came too soon.
const shortestRunDown = 500 * time.Millisecond

// longestWatch is longer than anybody watches a blade run down.
const longestWatch = 10 * time.Minute

var (
	pressed = procedure.Fact{Name: "stop pressed"} // when, while the blade runs down
	runDown = procedure.Fact{Name: "run-down"}     // how the last one was taken, for the record of isolation
)

var gateCautions = []string{
	"The saw's manual, the law and your safety officer come first. Anything behind a cover is an electrician's work.",
	"A plug is isolation only while it lies where you alone can put it back.",
	"An isolator that is opened while the blade turns can take the power from the brake: stop, wait, then isolate.",
}

// limit is how long a run-down may take by the rules of the shop.
func limit(c context) time.Duration {
	if form.American(c) {
		return longestWatch
	}
	return longestRunDown
}

// whoRow asks for the initials that stand beside every record of the run.
var whoRow = row{
	Name: "who", Stage: 1, Title: form.Said("Who is at the saw?"),
	Done: func(c context) bool { return c.Who != "" },
	Act: procedure.Paper{
		Says:   form.Lines("Your initials stand beside every record from here on."),
		Accept: func(t *taking) { t.IsAtTheSaw(t.Text("by")) },
	},
	Help:   []string{"The other shift wants to know whom to ask."},
	Fields: form.Fields(field{Key: "by", Label: "Your initials", Hint: "one to four letters, such as KB", Kind: procedure.FieldInitials}),
}

// stopRow times the run-down by two presses of enter.
var stopRow = row{
	Name: "stop", Stage: 1, Gate: true, Title: form.Said("Stop the saw"), Help: gateCautions,
	Act:  procedure.Paper{Says: stopOrders, Accept: stop},
	Once: form.Lines("A blade that runs on looks like one that stands."),
	Fields: func(c context) []field {
		if c.Fact(pressed) != "" {
			return []field{form.Optional(field{Key: "standstill", Label: "The blade stands still", Hint: "enter", Kind: procedure.FieldText}).With(func(text string) error {
				if text != "" && !strings.EqualFold(text, "still") {
					return fmt.Errorf("%q: press enter when the blade stands still", model.Clip(text))
				}
				return nil
			})}
		}
		return []field{form.Optional(field{Key: "off", Label: "Stop is pressed", Hint: "enter; still; or the seconds", Kind: procedure.FieldText}).With(func(text string) error {
			if text == "" || strings.EqualFold(text, "still") {
				return nil
			}
			_, err := seconds(text)
			return err
		})}
	},
}

func stopOrders(c context) []string {
	if c.Fact(pressed) != "" {
		out := []string{"Leave plug and lock alone till it stands; then press enter."}
		if c.Options.Unkept {
			out = append(out, "In practice nothing turns: count to three.")
		}
		return out
	}
	out := []string{"Press stop and enter together.", "It stands already: type still. Do not start it for this."}
	if !c.Again {
		out = append(out, "Keyboard out of reach: count the seconds, type them.")
	}
	return out
}

func stop(t *taking) {
	if since := t.Fact(pressed); since != "" {
		t.Keep(pressed, "")
		from, _ := time.Parse(time.RFC3339Nano, since)
		took := t.At.Sub(from)
		switch {
		case took > longestWatch:
			t.Say("run-down-lost", model.Warns, "That was %d minutes ago: watch the blade, and begin anew.", int(took.Minutes()))
			return
		case took < shortestRunDown:
			t.Say("run-down-short", model.Warns, "Enter came twice within half a second, and no blade stops that fast: begin anew.")
			return
		}
		stopped(t, took.Round(time.Second/10), "timed")
		return
	}
	switch off := t.Text("off"); {
	case off == "":
		t.Keep(pressed, t.At.Format(time.RFC3339Nano))
	case strings.EqualFold(off, "still"):
		t.Does(interlock.Stopped(t.State.RunDown, limit(t.Context)))
		t.Keep(runDown, "still")
	default:
		took, _ := seconds(off)
		form.Asked(t, "off", model.RunDownTyped(took, t.Opened, t.At))
		stopped(t, took, "typed")
	}
}

// stopped knows the blade stopped after some time. A blade that stands already, or that stops
// in time once, says nothing of a brake that was slow by the records and for which nobody answers.
func stopped(t *taking, took time.Duration, how string) {
	t.Does(interlock.Stopped(max(took, t.State.RunDown), limit(t.Context)))
	t.Keep(runDown, how+" "+took.String())
	switch {
	case took <= longestRunDown:
	case form.American(t.Context):
		t.Say("run-down-manual", model.Warns, "The blade took %g s to stand still: see in the saw's manual whether that is right for it.", took.Seconds())
	default:
		t.Keep(answersForBrake, "") // nobody has answered for this one
		t.Say("run-down-slow", model.Danger, "The blade took %g s to stand still; a saw in order needs at most %g s: the brake wants a look before the saw is used.", took.Seconds(), limit(t.Context).Seconds())
	}
}

// seconds is a run-down as somebody types it.
func seconds(text string) (time.Duration, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "s")), 64)
	if err != nil || len(text) > 8 || !(v > 0 && v <= longestWatch.Seconds()) {
		return 0, fmt.Errorf("%q is no run-down: press enter at stop and again at standstill, or type the seconds, or still", model.Clip(text))
	}
	return time.Duration(v*10+0.5) * time.Second / 10, nil
}

// isolateRow is the gate before hands go in: the plug is out or the lock on, and start is dead.
var isolateRow = row{
	Name: "isolate", Stage: 1, Gate: true, Title: form.Said("Isolate the saw"), Help: gateCautions,
	Act: procedure.Paper{
		Says:   form.Lines("Pull the plug and keep it by you; or lock the switch off, keep the key.", "Press start: the saw must stay dead. Press stop again."),
		Accept: isolate,
	},
	Once: form.Lines("Nothing but this keeps the blade still while hands are at it."),
	Fields: func(c context) []field {
		return []field{ // the first letter of how will do: it opens nothing, the two words behind it do
			{Key: "how", Label: "Isolated how", Hint: "plug or lock", Kind: procedure.FieldChoice, Options: []string{"unplugged", "locked"}, Called: []string{"plug", "lock"}},
			form.Word("dead", "Start was pressed, nothing happened", "dead"),
			form.Word("word", "The word", gateWord(c)),
		}
	},
}

func isolate(t *taking) {
	r := record{Kind: model.Isolation, How: t.Choice("how"), Dead: "dead"}
	how, took, _ := strings.Cut(t.Fact(runDown), " ")
	r.RunDown, _ = time.ParseDuration(took)
	r.Typed, r.Still = how == "typed", how == "still"
	r.Answers = t.Fact(answersForBrake)
	t.Record(r)
	t.Does(interlock.IsolatedNow())
	t.Keep(runDown, "")
	t.Say("isolated", model.Explains, "The saw is isolated. It stays so until the power-up checklist.")
}

// answersForBrake is who answers for a run-down over the limit.
var answersForBrake = procedure.Fact{Name: "answers for the brake"}

// brakeRow has somebody answer for a run-down over the limit, before power comes back.
var brakeRow = row{
	Name: "brake", Stage: 1, Gate: true, Title: form.Said("The run-down is too long"), Help: gateCautions,
	Act: procedure.Paper{
		Says: func(c context) []string {
			return []string{
				fmt.Sprintf("The blade took longer than %g s to stand still: the saw is out of use until its brake is mended.", limit(c).Seconds()),
				"Mended: type mended. Else type the name of who answers for using it as it is: it goes on record.",
			}
		},
		Accept: func(t *taking) {
			t.Keep(answersForBrake, t.Text("answers"))
			t.Record(record{Kind: model.Note, Answers: t.Text("answers"), Text: "run-down over the limit; answered for: " + t.Text("answers")})
			t.Does(interlock.BrakeAnswered())
		},
	},
	Why:    form.Lines("A long run-down is how fingers meet a blade that seemed to stand."),
	Fields: form.Fields(field{Key: "answers", Label: "Mended, or who answers for it", Hint: "mended, or a name", Kind: procedure.FieldText}),
}

// stillDeadRow is the short form after a lapse: the saw is still isolated, and still dead.
var stillDeadRow = row{
	Name: "still-dead", Stage: 1, Gate: true, Title: form.Said("Is it still isolated?"), Help: gateCautions,
	Act: procedure.Paper{
		Says:   form.Lines("The plug lies by you, or the key is on you: type mine.", "Press start: the saw must stay dead. Press stop again."),
		Accept: func(t *taking) { t.Does(interlock.StillDeadNow()) },
	},
	Why: form.Lines("Somebody may have needed the saw meanwhile. Not sure: leave with ctrl+c; all is asked anew."),
	Fields: func(c context) []field {
		return []field{form.Word("mine", "Plug or key is still mine", "mine"), form.Word("dead", "Start was pressed, nothing happened", "dead")}
	},
	Follows: handsAway,
}

// handsAway stands until the saw is vouched for, whatever is typed.
func handsAway(context, answers) []reason { return []reason{procedure.HandsAway} }

// nobodyThereRow asks after an idle spell, with the saw not isolated, whether nobody touched it.
var nobodyThereRow = row{
	Name: "nobody-there", Stage: 1, Gate: true, Title: form.Said("Was nobody at the saw?"), Help: gateCautions,
	Act: procedure.Paper{
		Says: form.Lines("The saw is not isolated. You were here, and nobody touched it: type nobody.", "Else type somebody: nothing is known of it then."),
		Accept: func(t *taking) {
			if t.Choice("nobody") == "nobody" {
				t.Does(interlock.NobodyWasThere())
				return
			}
			t.Interrupted()
		},
	},
	Why:     form.Lines("Whoever was there may have changed blade, knife or fence."),
	Fields:  form.Fields(form.Seen("nobody", "At the saw was", "nobody", "somebody")),
	Follows: handsAway,
}

// fenceRow is the gate before a strip where nobody knows whether the locked fence was touched.
var fenceRow = row{
	Name: "fence", Stage: 9, Gate: true, Title: form.Said("Was the fence left alone?"),
	Act: procedure.Paper{
		Says: func(c context) []string {
			return []string{
				fmt.Sprintf("The fence was locked at %s.", c.Show(c.State.Width.Length)),
				"Not moved, unlocked or bumped since, tilt untouched: type untouched.",
				"Moved, or you do not know: type moved; reference strips come again.",
			}
		},
		Accept: func(t *taking) {
			if t.Choice("fence") == "untouched" {
				t.Does(interlock.FenceVouched(t.State.Lock))
				return
			}
			moveFence(t)
		},
	},
	Why:    form.Lines("A bump goes into every comparison that follows. No reading is lost."),
	Help:   []string{"If another shift has worked at the saw, the answer is moved."},
	Fields: form.Fields(form.Seen("fence", "The fence is", "untouched", "moved")),
}

// clearRow empties the saw. It is the gate before a step that wants the arbor bare, and
// the first step of a setup.
var clearRow = row{
	Name: "clear", Stage: 1, Title: form.Said("Empty the saw"), Help: []string{form.SharpStill},
	Done: func(c context) bool {
		on, known := c.Lock.On()
		return known && on.Blade == "" && on.Rings == "" || measured(c)
	},
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			off := "Off: guard, throat plate, nut, loose flange, blade, every ring."
			if on := c.State.On; on.Blade != "" {
				off = fmt.Sprintf("Off: guard, plate, nut, the %s; by the records: %s.", c.Name(on.Blade), c.Rings(on.Rings))
			}
			knife := "Riving knife out too, unless that takes tools."
			if knifeMayStay(c) {
				knife = "Leave the knife as it stands."
			}
			return []string{off, "Lay them out in the order they came off.", knife}
		},
		Accept: clearSaw,
	},
	Why: form.Lines(form.SharpStill),
	Fields: func(c context) []field {
		var out []field
		if n := len(c.State.On.Rings); c.State.On.Blade != "" {
			out = append(out, cameOffUnseen(c, n))
		}
		ways := []string{"out", "stays"}
		if knifeMayStay(c) {
			ways = []string{"stays", "out"}
		}
		return append(out, form.Choice("knife", "The riving knife", "", ways...), form.Word("empty", "Nothing is left on the arbor", "empty"))
	},
	Picture: func(c context, a answers) procedure.Picture {
		on := c.State.On
		if strings.EqualFold(strings.TrimSpace(a["empty"]), "empty") {
			on = model.Fitted{}
		}
		return shop.OnArbor(c, on.Blade, on.Rings)
	},
}

// knifeMayStay reports whether nothing is gained by taking the knife out: it was measured.
func knifeMayStay(c context) bool { return c.Need.Bare || measured(c) }

// unknownKnife stands for a knife that stays in a saw of which nothing is on file yet.
const unknownKnife = "knife"

func reversed(ids []string) []string {
	out := make([]string, 0, len(ids))
	for i := len(ids) - 1; i >= 0; i-- {
		out = append(out, ids[i])
	}
	return out
}
