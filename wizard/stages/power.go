package stages

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// lineRow is the last look before a blade may turn: the knife stands between the two sides
// of the teeth, as far from the tips as the rules have it.
var lineRow = row{
	Name: "line", Stage: 5, Title: form.Said("The knife behind the blade"),
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			on, _ := c.Lock.On()
			moved := "It stands out: set it by the manual before anything turns."
			if squaredKnown(c, on.Knife) {
				moved = "Moved it? Type moved: it is checked before anything turns."
			}
			out := []string{"Straightedge along each side of the teeth: the knife must lie between.", moved}
			if _, due := kerfField(c); due {
				return append(out, "Measure how far the knife lies behind it on the fence side: low, high.", "Measure knife to nearest tips; set the height by its block.")
			}
			out = append(out, "Measure from the knife to the nearest tooth tips.")
			if c.Options.Mode != procedure.Swap || proves(c) {
				out = append(out, "Set the height by its block again.")
			}
			return out
		},
		Accept: seeLine,
	},
	Why:  form.Lines(form.SharpStill),
	Help: []string{"EN 1870-1, 6.3: {3 to 8 mm|0.12 to 0.31 in} from the tips, the knife's tip at least {2 mm|0.08 in} below the top of the blade. In the United States at most 1/2 in (Cal. Code Regs. title 8, 4296)."},
	Fields: func(c context) []field {
		if f, due := kerfField(c); due {
			return []field{f, lineGap(c)}
		}
		return []field{lineGap(c)}
	},
	Simulated: map[string]procedure.Simulated{"tip_gap": func(c context, s procedure.Saw, a answers) string {
		if k, due := thicknessDue(c); due {
			return practice.TipGap(c, s, a) + " " + c.Size(k.Thickness.Length)
		}
		return practice.TipGap(c, s, a)
	}},
	Follows: func(c context, a answers) []reason {
		return append(kerfWords(c, form.Readings(c, a["faces"])), form.TipGapFollows(c, a)...)
	},
	Picture: func(c context, a answers) procedure.Picture {
		p := knifeBehind(c, a)
		if _, p.Held = kerfField(c); p.Held {
			p.Play = stand(c, c.Blade).Play
		}
		return p
	},
}

// knifeBehind is the knife behind the blade that is on, as it is typed.
func knifeBehind(c context, a answers) picture.KnifeBehind {
	p := picture.KnifeBehind{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide, Limit: model.MostFeelerGap}
	p.Least, p.Most = model.TipGapRange(c.Profile.Rules)
	if gap := form.Readings(c, a["tip_gap"]); len(gap) > 0 {
		p.Gap, p.Read = gap[0], true
	}
	faces := form.Readings(c, a["faces"])
	p.Faces = faces[:min(len(faces), 2)]
	return p
}

// gapField asks for the gap to the tips, and for the knife's thickness where it was not typed
// yet in this run.
func gapField(c context) field {
	if k, due := thicknessDue(c); due {
		f := form.Lengths(c, "tip_gap", "Knife to the tips, and its thickness", "such as "+c.Pick("5 ", "13/64 ")+c.Size(k.Thickness.Length), nil, 2, 2, 0, 60*mm)
		gap := form.Ruled(f, func(ls []model.Length) []reason { return form.TipGapWords(c, ls[0]) })
		return f.With(func(text string) error {
			if ms, err := model.ParseReadings(text, c.Unit()); err == nil && len(ms) == 2 {
				if err := called(c, ms[1], k); err != nil {
					return err
				}
			}
			return gap.Check(text)
		})
	}
	return form.TipGapField(c, "Knife, seen in line, to the tips")
}

// thicknessDue reports whether the thickness of the knife that is in was not typed yet in
// this run.
func thicknessDue(c context) (model.Knife, bool) {
	on, _ := c.Lock.On()
	k, _ := c.Profile.KnifeByID(on.Knife)
	return k, c.Fact(knifeTyped) != k.ID
}

// squaredKnown reports whether it is known where a knife stands: what moves it is told.
func squaredKnown(c context, knife string) bool {
	k := c.State.Knives[knife]
	return k.Set != nil && !k.Unknown
}

// knifeMoved is typed in place of the gap where the knife was moved in its slot.
const knifeMoved = "moved"

// lineGap asks for the gap to the tips, or whether a knife that was squared has been moved.
func lineGap(c context) field {
	f := gapField(c)
	if on, _ := c.Lock.On(); squaredKnown(c, on.Knife) {
		f.Or = knifeMoved
	}
	return f
}

// seeLine takes what was seen. A knife that was moved stands nobody knows where: its check
// comes next, by the tips of a blade that is in.
func seeLine(t *taking, h interlock.Hands) {
	on, _ := t.Lock.On()
	if lineGap(t.Context).Instead(t.Text("tip_gap")) {
		t.Record(record{Kind: model.KnifeMoved, Knife: on.Knife})
		t.Does(interlock.Mounted(h, on))
		return
	}
	gap := t.Lengths("tip_gap")[0]
	t.Keep(knifeTyped, on.Knife)
	if t.Typed("faces") && kerfWords(t.Context, model.Lengths(t.Lengths("faces"))) != nil {
		leaveOutside(t, on, h)
		return
	}
	form.Asked(t, "tip_gap", form.TipGapWords(t.Context, gap.Length))
	if t.Typed("faces") {
		t.Keep(knifeOut(on.Blade), "")
		t.Record(record{Kind: model.Note, Blade: on.Blade, Text: "knife behind the tips before power, low and high: " + form.Told(t.Lengths("faces"))})
	}
	t.Record(record{Kind: model.Line, Blade: on.Blade, Rings: strings.Fields(on.Rings), Knife: on.Knife, TipGap: gap})
	t.Does(interlock.GapTyped(h))
	t.Does(interlock.SeenInLine(h))
}

// powerRow is the checklist before power comes back, answered with the saw isolated.
var powerRow = row{
	Name: "power", Stage: 5, Gate: true, Title: form.Said("Power-up checklist"),
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			out := []string{"Free: turn it by hand: it touches neither plate nor knife; the knife lies between the teeth's two sides.", "Clear: nobody in line with the blade, people told; eyes, ears covered."}
			if c.Again {
				return out
			}
			return append([]string{"See each item at the saw, then type it."}, out...)
		},
		Accept: func(t *taking, h interlock.Hands) {
			t.Does(interlock.PoweredUp(h, interlock.Checklist{Tight: true, Free: true, Guard: true, Clear: true, Off: true}))
			t.Say("live", model.Warns, "The saw is live: hands stay away until it is isolated.")
		},
	},
	Once: form.Lines("Loose things fly; people who were not told reach in."),
	Help: []string{"Loose items out, parts whole, people clear and told, the lock taken off by its owner: then power. No gloves while it turns, stand out of the line of the blade.", "The saw's manual, the law and your safety officer come first."},
	Fields: func(c context) []field {
		return []field{
			form.Word("tight", "Nut tight, flange and marks right, wrench and pin off", "tight"),
			form.Word("free", "Throat plate closed; a full turn touches nothing", "free"),
			form.Word("guard", "Guard on", "guard"),
			form.Word("clear", "Table clear, wrenches counted, fence locked", "clear"),
			form.Word("off", "Main switch off; then plug in, or unlock", "off"),
			form.Word("word", "The word", gateWord(c)),
		}
	},
}

// firstRow is the first start without stock.
var firstRow = row{
	Name: "first", Stage: 5, Gate: true, Title: form.Said("First start, without stock"),
	Act: procedure.Spins{
		Says: form.Lined[interlock.Turning]("Stand aside, out of the line of the blade. No stock near it.", "Start. Listen: no rub, no rattle, no shake. Stop, wait for standstill.",
			"You hear one: type noise; do not start it again."),
		Accept: func(t *taking, p interlock.Turning) {
			if t.Choice("quiet") == "quiet" {
				t.Does(interlock.Started(p))
				return
			}
			t.Does(interlock.OtherOn()) // it comes off, is looked at, and goes on again
			t.Say("noise", model.Danger, "It does not turn again so: stop, isolate, take it off, look at nut, flanges, rings and plate, and put it on anew.")
		},
	},
	Once:   form.Lines("A loose nut or a tilted ring is heard here, not in the cut."),
	Fields: form.Fields(form.Seen("quiet", "It ran and stopped", "quiet", "noise")),
}
