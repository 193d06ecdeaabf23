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

// apartRow asks about a strip that stands apart, before any verdict is shown.
var apartRow = row{
	Name: "apart", Stage: 10, Title: func(c context) string { return c.Name(c.Blade) + ": a strip stands apart" },
	When: func(c context) bool { return stand(c, c.Blade).apart != nil },
	Done: func(c context) bool { return stand(c, c.Blade).apart == nil },
	Act: procedure.Paper{
		Says: func(c context) []string {
			q := stand(c, c.Blade).apart
			return []string{
				fmt.Sprintf("Take strip %d. Burr at its end, chip under the fence edge, ripped before?", q.Number),
				"Found: type what; another takes its place. Nothing found: type keep.",
			}
		},
		Accept: func(t *taking) {
			ref := t.All()[stand(t.Context, t.Blade).apart.Strip].Ref()
			if what := t.Text("found"); !strings.EqualFold(what, "keep") {
				t.Record(record{Kind: model.Void, Of: ref, Why: what})
				return
			}
			t.Record(record{Kind: model.Kept, Of: ref})
		},
	},
	Help:    []string{"Where those before it lie together, and those after it, the fence may have moved in between: say so, under other work."},
	Why:     form.Lines("Never left out for its width alone: only for what is found on it."),
	Follows: func(c context, _ answers) []reason { return []reason{stand(c, c.Blade).apart.Reason} },
	Picture: func(c context, _ answers) procedure.Picture {
		if c.All()[stand(c, c.Blade).apart.Strip].For == model.Datum {
			return besideOwn(stripsLaid(c, c.State.Lock, datumOf(c, c.State.Lock)))
		}
		return judgedPicture(c)
	},
	Fields: form.Fields(field{Key: "found", Label: "What is on it", Hint: "burr, chip, snipe ..., or keep", Kind: procedure.FieldText}),
}

// datumApartBlock asks it of what ripped the strips that others are compared with, once there are enough
// to tell which of them it is, and as long as it is on the saw to rip another.
func datumApartBlock() procedure.Block {
	r := apartRow
	r.Stage = referenceRow.Stage
	return procedure.Block{Rows: []row{r}, Each: func(c context) []string {
		on := c.State.On.Blade
		if slices.ContainsFunc(datumOf(c, c.State.Lock), func(s model.Strip) bool { return s.Blade == on }) {
			return []string{on}
		}
		return nil
	}}
}

// way is which way was chosen after an OUT.
func way(blade string, rings []string) procedure.Fact {
	return procedure.Fact{Name: "way " + blade + " " + strings.Join(rings, " "), Lasts: true}
}

// wayNames are what the ways on are called at the field; the others are no work at the saw.
var wayNames = map[model.WayKind]string{model.WayRead: "read", model.WayClean: "clean", model.WayStack: wayRings, model.WayOwn: wayRings}

const (
	wayRings = "rings"
	wayLater = "later"
)

// waysOn are the ways on that can be chosen, each once.
func waysOn(s standing) (out []string) {
	for _, w := range s.Ways {
		if name := wayNames[w.Kind]; name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return append(out, wayLater)
}

// waysRow offers what can be done about a blade that its stack does not bring in.
var waysRow = row{
	Name: "ways", Stage: 10,
	Title: func(c context) string {
		if stand(c, c.Blade).Verdict == model.Out {
			return "The " + c.Name(c.Blade) + " is out"
		}
		return "Not brought in: " + c.Name(c.Blade)
	},
	When: func(c context) bool { return stand(c, c.Blade).out() },
	Done: func(c context) bool {
		s := stand(c, c.Blade)
		return !s.out() || s.left || c.Fact(way(c.Blade, s.Stack)) != ""
	},
	Act: procedure.Paper{
		Says: func(c context) []string { // in the order of the field, which takes their numbers
			s := stand(c, c.Blade)
			says := map[string]string{
				"read": "the strips again; nothing is ripped", "clean": "off, look, clean, same rings, new strips",
				wayLater: "stays not ready; every card says so",
			}
			for _, w := range s.Ways {
				if wayNames[w.Kind] == wayRings {
					says[wayRings] = fmt.Sprintf("%s, chance %s", c.Rings(w.Stack), chance(w.Chance))
				}
			}
			var out []string
			for _, name := range waysOn(s) {
				out = append(out, name+": "+says[name])
			}
			return out
		},
		Accept: takeWay,
	},
	Why: func(c context) []string {
		s := stand(c, c.Blade)
		switch {
		case slices.ContainsFunc(s.Reasons, func(r reason) bool { return r.Code == "off-prediction" }):
			return []string{model.Sentence(solver.LikelyCauses(c.Profile.Saw.Flange, s.Offset > 0) + "?")}
		case s.OutKnife:
			return []string{"The knife stands outside the kerf."}
		}
		return nil
	},
	Fields: func(c context) []field {
		way := form.Choice("way", "Which way", "", waysOn(stand(c, c.Blade))...)
		way.Numbered = true // as the orders are, which tell of them
		return []field{way}
	},
	Picture: func(c context, _ answers) procedure.Picture { return judgedPicture(c) },
	Follows: func(c context, a answers) (out []reason) { // what the way that is typed costs, and what holds until then
		s := stand(c, c.Blade)
		out = verdict(c, c.Blade)
		for _, r := range s.Reasons {
			if r.Weight == model.Danger {
				out = append(out, r)
			}
		}
		var others []reason
		for _, w := range s.Ways {
			way := reason{Code: "way", Weight: model.Warns, Text: w.Text}
			switch name := wayNames[w.Kind]; {
			case name == "":
				others = append(others, way)
			case strings.EqualFold(name, strings.TrimSpace(a["way"])):
				out = append(out, way)
			}
		}
		for _, r := range s.Reasons {
			if r.Code == "fallback" {
				out = append(out, r)
			}
		}
		return append(out, others...)
	},
	Figure: func(c context, _ answers) procedure.Figure {
		s := stand(c, c.Blade)
		if s.Verdict == model.Doubtful {
			return offFigure(c, s.Offset, ", doubtful")
		}
		return procedure.Figure{Text: "OUT", Caption: c.Side(s.Offset)}
	},
}

// chance writes a chance, from 0 to 1, in whole percents: never none, and never a certainty.
func chance(of float64) string {
	if of < 0.01 {
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", min(99, 100*of))
}

func takeWay(t *taking) {
	s := stand(t.Context, t.Blade)
	if s.OutKnife {
		t.Keep(knifeOut(t.Blade), "out")
	}
	switch t.Choice("way") {
	case "read":
		t.Say("read-again", model.Explains, "Read the strips of the %s once more. esc opens the newest reading, and the one before it.", t.Name(t.Blade))
	case wayLater:
		t.Record(record{Kind: model.Note, About: model.AboutLeft, Blade: t.Blade, Text: "left for later: " + string(s.Verdict)})
	case wayRings:
		to, ok := s.to(model.WayStack)
		if !ok {
			to, _ = s.to(model.WayOwn)
		}
		t.Keep(way(t.Blade, s.Stack), wayRings+":"+strings.Join(to.Stack, " "))
	default:
		t.Keep(way(t.Blade, s.Stack), t.Choice("way"))
	}
}

// cleanRow takes the blade off, and asks what lay there.
var cleanRow = row{
	Name: "clean", Stage: 10, Title: func(c context) string { return "Clean, and look what lies there: the " + c.Name(c.Blade) },
	When: func(c context) bool {
		s := stand(c, c.Blade)
		return s.out() && c.Fact(way(c.Blade, s.Stack)) == "clean"
	},
	Done:  func(c context) bool { return !stand(c, c.Blade).out() },
	Needs: func(c context) interlock.Need { return interlock.Need{Bare: true} },
	Act: procedure.HandsIn{
		Says: form.Lined[interlock.Hands]("Look at flange, rings and blade before you wipe them: dust, resin, a burr, a ring in the relief, a wrong ring.",
			"Clean all of it. Type what you found, or nothing.", "Nothing: the stack is found out, and is not cut again."),
		Accept: func(t *taking, h interlock.Hands) {
			s := stand(t.Context, t.Blade)
			t.Record(record{Kind: model.Found, Blade: t.Blade, Mounting: s.mounting(), Text: t.Text("found")})
			t.Does(interlock.Handled(h))
			t.Keep(way(t.Blade, s.Stack), "")
			if s.OutKnife && strings.EqualFold(t.Text("found"), model.NothingFound) {
				t.Keep(feelDue(t.Blade), "due")
			}
		},
	},
	Why:    form.Lines(form.SharpStill),
	Fields: form.Fields(field{Key: "found", Label: "What you found", Hint: "dust, resin, burr, ring in the relief ..., or nothing", Kind: procedure.FieldText}),
}

// leaveBladeRow leaves a blade that cannot be brought in.
var leaveBladeRow = row{
	Name: "leave", Stage: 10, Title: func(c context) string { return "Not brought in: " + c.Name(c.Blade) },
	When: func(c context) bool { return stand(c, c.Blade).stuck(c) },
	Done: func(c context) bool { return !stand(c, c.Blade).stuck(c) },
	Act: procedure.Paper{
		Says: func(c context) []string {
			row, _ := c.Plan.Row(c.Blade)
			out := []string{"It stays not ready, and every card says so. Type later to go on."}
			for _, r := range row.Reasons {
				if r.Code == "cure" {
					out = append(out, model.Sentence(r.Text+"; bought: under other work, then it is compared"))
				}
			}
			if row.Fallback.Unit != model.NoUnit {
				out = append(out, fmt.Sprintf("For today, NOT READY: the scale at %s makes parts of %s.", c.Short(row.Fallback.Length), c.Size(c.Profile.WorkingWidth.Length)))
			}
			return out
		},
		Accept: func(t *taking) {
			t.Record(record{Kind: model.Note, About: model.AboutLeft, Blade: t.Blade, Text: "left for later: not brought in"})
		},
	},
	Why: func(c context) []string {
		if row, _ := c.Plan.Row(c.Blade); !row.Inside {
			return []string{"With these rings the knife stands outside its kerf: it must not run."}
		}
		return []string{"No stack of this kit promises to bring it in."}
	},
	Follows: func(c context, _ answers) []reason { row, _ := c.Plan.Row(c.Blade); return row.Reasons },
	Fields:  form.Fields(form.Word("later", "Leave it for later", "later")),
}
