package stages

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// feelDue is that a blade goes on again with the same rings for its knife to be felt behind
// it: it was cleaned, and nothing found.
func feelDue(blade string) procedure.Fact {
	return procedure.Fact{Name: "feel " + blade, Lasts: true}
}

// feelRow feels the knife behind a blade whose strip says that it stands outside its kerf: in
// the mounting of that strip, or after nothing was found under it. Nothing turns for it. A
// knife of which nobody knows where it stands tells nothing of the datum.
var feelRow = row{
	Name: "feel", Stage: 10, Title: func(c context) string { return "Feel the knife behind the " + c.Name(c.Blade) },
	When: feelWanted, Done: func(c context) bool { return !feelWanted(c) },
	Needs: func(c context) interlock.Need {
		return interlock.Need{On: dressed(c, c.Blade, stand(c, c.Blade).Stack)}
	},
	Act: procedure.HandsIn{
		Says: form.Lined[interlock.Hands]("A strip puts the knife outside this kerf: feel whether it is so.",
			"Straightedge on the fence-side tips; the knife behind it, low and high.", "In front of it: type a minus before the figure."),
		Accept: feel,
	},
	Why:    form.Lines("Read the strip once more first: esc opens it.", form.SharpStill),
	Fields: func(c context) []field { return []field{facesField(c)} },
	Follows: func(c context, a answers) []reason {
		faces := form.Readings(c, a["faces"])
		if out := kerfWords(c, faces); out != nil || len(faces) != 2 {
			return out
		}
		return []reason{{Code: "strip-or-knife", Weight: model.Warns, Text: "the knife stands inside the kerf, and the strip says otherwise: neither is believed; the fence counts as moved, the knife is checked, and new strips tell"}}
	},
	Picture: func(c context, a answers) procedure.Picture {
		p := knifeBehind(c, a)
		p.Held, p.Most, p.Play = true, 0, stand(c, c.Blade).Play
		return p
	},
}

// feelWanted reports whether it is to be felt, once in a run for the same rings: a strip that says so
// again, under a new lock and with the knife checked, is believed.
func feelWanted(c context) bool {
	s := stand(c, c.Blade)
	b, _ := c.Profile.BladeByID(c.Blade)
	if !s.OutKnife || s.left || s.other() || len(s.strips) == 0 || !squaredKnown(c, b.Knife) {
		return false
	}
	last := s.strips[len(s.strips)-1]
	if slices.ContainsFunc(c.State.Felt, func(f model.Feel) bool {
		return f.Record.Kind == model.Felt && f.Record.Blade == c.Blade && slices.Equal(f.Record.Rings, s.Stack) && f.Index > min(last.Index, c.Started-1)
	}) {
		return false
	}
	on, known := c.Lock.On()
	still := known && on == dressed(c, c.Blade, s.Stack) && c.State.On.Mounting == last.Mounting
	return still || c.Fact(feelDue(c.Blade)) != ""
}

// feel takes where the knife was felt. Outside, it bears the strip out. Inside, fence or knife
// moved: both are taken for moved, and the strips of that mounting count no more.
func feel(t *taking, h interlock.Hands) {
	on, _ := t.Lock.On()
	s := stand(t.Context, t.Blade)
	outside := kerfWords(t.Context, model.Lengths(t.Lengths("faces"))) != nil
	t.Keep(feelDue(t.Blade), "")
	t.Keep(knifeOut(t.Blade), "out")
	t.Record(feltNow(t, on))
	if outside {
		t.Does(interlock.Handled(h))
		t.Say("felt-outside", model.Warns, "Knife and strip agree: with these rings the %s does not turn again.", t.Name(t.Blade))
		return
	}
	last := s.strips[len(s.strips)-1]
	for _, strip := range s.strips {
		if strip.Mounting == last.Mounting && strip.Lock == last.Lock {
			t.Record(record{Kind: model.Void, Of: strip.Record.Ref(), Why: "the knife was felt inside the kerf that it says it is outside of"})
		}
	}
	t.Record(record{Kind: model.KnifeMoved, Knife: on.Knife})
	t.Does(interlock.Mounted(h, on)) // the line is seen again
	if last.Lock == t.State.Lock {
		moveFence(t)
	}
	t.Say("strip-or-knife", model.Warns, "Strip and knife contradict each other: neither is believed. Look at the block at the fence's foot. New strips under another lock tell.")
}

// feltNow is what is typed of a knife behind the blade that is on.
func feltNow(t *taking, on interlock.Fit) record {
	return record{Kind: model.Felt, Blade: on.Blade, Rings: strings.Fields(on.Rings), Knife: on.Knife, Faces: t.Lengths("faces")}
}

func facesField(c context) field {
	return form.Lengths(c, "faces", "Knife behind the tips, low and high", "- in front, such as "+c.Pick("0.05 0.05", "0.002 0.002"), nil, 2, 2, -5*mm, 5*mm)
}

// kerfField asks where the knife stands behind a blade of which the last cut left it outside
// its kerf, before that is powered up again. Where nobody knows where the knife stands it is set
// here, and one outside is refused; one that was squared stays, and it is the blade that comes off.
func kerfField(c context) (field, bool) {
	on, _ := c.Lock.On()
	row, _ := c.Plan.Row(on.Blade)
	f := facesField(c)
	if squaredKnown(c, on.Knife) {
		f = f.Against(func(t *taking) {
			for _, r := range kerfWords(t.Context, model.Lengths(t.Lengths("faces"))) {
				t.Question("faces", "%s", r.Text)
			}
		})
	} else {
		f = form.Ruled(f, func(faces []model.Length) []reason { return kerfWords(c, faces) })
	}
	return f, row.OutKnife || row.Feel || c.Fact(knifeOut(on.Blade)) != ""
}

// kerfWords tell of a knife that was seen outside the kerf of the blade that is on.
func kerfWords(c context, faces []model.Length) []reason {
	on, _ := c.Lock.On()
	row, _ := c.Plan.Row(on.Blade)
	if len(faces) == 0 {
		return nil
	}
	out := solver.FeltOutside(faces, row.Play)
	if out == 0 {
		return nil
	}
	then := "set it by the manual and measure again, or leave the saw isolated"
	if squaredKnown(c, on.Knife) {
		then = "nothing turns so; the blade comes off"
	}
	return []reason{{Code: "knife-outside", Weight: model.Danger, Text: fmt.Sprintf("the knife stands %s out of the kerf %s: %s", c.Result(out.Abs()), model.Toward(out), then)}}
}

// leaveOutside leaves a blade for later, of which a squared knife was seen outside its kerf.
func leaveOutside(t *taking, on interlock.Fit, h interlock.Hands) {
	t.Record(feltNow(t, on))
	t.Record(record{Kind: model.Note, About: model.AboutLeft, Blade: on.Blade, Text: "left for later: with " + t.RingsTyped(strings.Fields(on.Rings)) + " the knife stands outside its kerf, behind the tips low and high: " + form.Told(t.Lengths("faces"))})
	t.Does(interlock.Handled(h))
	t.Say("knife-outside", model.Danger, "The %s does not turn so: it comes off, and stays not ready. It wants other rings, another knife, or its knife squared to it: under other work.", t.Name(on.Blade))
}

// knifeOut is that the last cut of a blade left the knife outside its kerf, though what was
// found under it may have voided that cut.
func knifeOut(blade string) procedure.Fact {
	return procedure.Fact{Name: "knife out " + blade, Lasts: true}
}
