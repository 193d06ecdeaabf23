package procedure

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

var compareSteps = map[string]step{
	"unfit": {
		number: 2, picture: KnifeWindow,
		title: func(c context) string { return "The knife does not fit the " + c.name(c.blade) },
		do: func(c context) []string {
			var lines []string
			for _, r := range c.knifeReasons(c.blade) {
				lines = append(lines, model.Sentence(r.Text))
			}
			return append(lines, "Set this blade aside: it must not run on this saw with this knife.", "A knife that fits can be added under other work; then the blade is compared like the others.")
		},
		why:  words("A knife as thick as the kerf wedges the stock; one too thin lets the kerf close on the plate."),
		help: []string{"EN 1870-1: the knife is thinner than the kerf and at least {0.2 mm|0.008 in} thicker than the plate. Several knives may be needed for several blades."},
		fields: func(context) []Field {
			return []Field{wordField("aside", "The blade lies aside", "aside")}
		},
		accept: func(t *taking) {
			t.record(model.Record{Kind: model.Note, About: model.AboutLeft, Blade: t.blade, Text: "set aside: its knife does not fit it"})
		},
	},
	"cut": {
		number: 10, picture: PiecePicture,
		title: func(c context) string { return "Comparison rip: " + c.name(c.blade) },
		needs: func(c context) needs {
			return needs{power: Live, blade: c.blade, rings: c.ringsFor(c.blade), fence: true, datum: true}
		},
		do: func(c context) []string {
			fresh, first := c.fresh()
			var piece string
			switch {
			case fresh && first:
				piece = "Take a fresh piece and rip half its length: no half of one was cut by the reference blade for this blade under this fence lock."
			case fresh:
				piece = "Take a fresh piece and rip half its length: the old piece may show only its old cut, since the cut face is not known to have moved toward the fence."
			case first:
				piece = fmt.Sprintf("Take the piece marked for the %s. Turn it over end for end, the marked edge to the fence, and rip its other half.", c.name(c.blade))
			default:
				piece = "Take the same piece and rip the same half again: the cut face moved toward the fence."
			}
			return []string{piece, "Hold it to the fence, switch off, wait for standstill, then withdraw it.",
				"Read this blade's half at three or more places: widths, or differences with the caliper zeroed on the reference half (+ = wider)."}
		},
		why:  words("The step between the halves is how far this blade cuts from the datum.", reachCaution),
		help: ripCautions,
		fields: func(c context) []Field {
			how, readings := c.cutFields()
			if fresh, _ := c.fresh(); !fresh {
				return []Field{how, readings}
			}
			return []Field{wordField("piece", "A fresh piece was cut", "fresh"), how, readings}
		},
		accept: acceptCut,
	},
	"reread": {
		number: 10, picture: PiecePicture,
		title: func(c context) string { return "Read it once more: " + c.name(c.blade) },
		do: func(c context) []string {
			var before []string
			last, _ := c.state.Blades[c.blade].Last()
			for _, m := range slices.Concat(last.Readings, last.Differences) {
				before = append(before, m.String())
			}
			return []string{"Nothing is ripped here: the half that this blade cut lies there as it was.",
				"Read the same half once more, or type what its readings should have been.",
				"Typed before: " + strings.Join(before, ", ") + "."}
		},
		why: words("What was typed before stays in the records; the new readings are what counts."),
		fields: func(c context) []Field {
			how, readings := c.cutFields()
			if last, _ := c.state.Blades[c.blade].Last(); len(last.Differences) > 0 {
				how.Value = "differences"
			}
			return []Field{how, readings}
		},
		accept: func(t *taking) {
			half := t.state.Blades[t.blade].Half
			t.takeCut(t.choice("how") == "differences", t.lengths("readings"), model.Record{Piece: string(half.Piece), Rings: half.Rings})
		},
	},
	"more": {
		number: 10, picture: PiecePicture,
		title: func(c context) string { return "Doubtful: read the " + c.name(c.blade) + " again" },
		do: func(c context) []string {
			row, _ := c.plan.Blade(c.blade)
			halves := "of this blade's half"
			if row.MoreHalf > 0 {
				halves = "of each half"
			}
			first := fmt.Sprintf("The readings do not settle it yet. About %d more %s are expected to.", row.More, halves)
			if i := slices.IndexFunc(row.Reasons, func(r model.Reason) bool { return r.Code == "uneven" }); i >= 0 {
				return []string{first, model.Sentence(row.Reasons[i].Text), "For that, type leave, and run this blade once more by itself. Or read the same piece again at other places."}
			}
			return []string{
				first,
				"Read the same piece again at other places: more readings and no new cut. Or type leave to leave this blade for later.",
			}
		},
		why: words("Doubtful means that the readings scatter too much to say in or out of the tolerance."),
		fields: func(c context) []Field {
			f := c.widths("readings", "More readings, same kind as before", 1)
			f.Min, f.Max, f.Optional = -20*mm, 2*c.profile.WorkingWidth.Length, true
			decide := Field{Key: "decide", Label: "What now", Hint: "read or leave", Kind: FieldChoice, Options: []string{"read", "leave"}, Value: "read"}
			if row, _ := c.plan.Blade(c.blade); row.MoreHalf == 0 {
				return []Field{decide, f}
			}
			half := c.widths("half", "More widths of the reference half", 1)
			half.Optional = true
			return []Field{decide, f, half}
		},
		accept: func(t *taking) {
			if t.choice("decide") == "leave" {
				t.leave("left doubtful")
				return
			}
			last, _ := t.state.Blades[t.blade].Last()
			readings, half := t.lengths("readings"), t.lengths("half")
			if len(readings) == 0 {
				t.fault("readings", "nothing typed: type one or more readings, or leave above")
				return
			}
			if len(half) > 0 {
				t.record(model.Record{Kind: model.ReferenceCut, Lock: t.state.Lock, Blade: t.profile.Reference, Rings: t.profile.Standing, Piece: t.pieceAtHand(), Readings: half, More: true})
			}
			t.takeCut(len(last.Differences) > 0, readings, model.Record{Piece: string(model.SamePiece), More: true, Rings: last.Rings})
		},
	},
	"written": {
		number: 10, picture: RackPicture,
		title: func(c context) string { return "Write it down: " + c.name(c.blade) },
		do: func(c context) []string {
			row, _ := c.plan.Blade(c.blade)
			first := fmt.Sprintf("The %s is IN: it cuts %s, plus or minus %s.", c.name(c.blade), c.side(row.Offset), c.result(row.Expanded))
			if c.blade == c.profile.Reference {
				first = fmt.Sprintf("The %s is the reference, and its box may tell other rings or another knife than stand behind it now.", c.name(c.blade))
			}
			stack := c.rings(row.Stack)
			if len(row.Stack) > 1 {
				stack += ", flange first"
			}
			return []string{
				first,
				fmt.Sprintf("Write on its box, and on the blade when it is off the arbor: %s; knife %s.", stack, c.knifeOf(c.blade)),
				"Then type the rings as you wrote them.",
			}
		},
		why: words("The next shift mounts what is written there."),
		fields: func(c context) []Field {
			row, _ := c.plan.Blade(c.blade)
			return []Field{{Key: "rings", Label: "Rings as written", Hint: "thicknesses, flange first, or none", Kind: FieldRings, check: func(text string) error {
				wrote, err := c.profile.ParseStack(text)
				if err == nil && !slices.Equal(wrote, row.Stack) {
					return fmt.Errorf("%s is not its stack: write %s", c.rings(wrote), c.rings(row.Stack))
				}
				return err
			}}}
		},
		accept: func(t *taking) {
			b, _ := t.profile.BladeByID(t.blade)
			t.record(model.Record{Kind: model.Note, About: model.AboutWritten, Blade: t.blade, Rings: t.ringList("rings"), Knife: b.Knife, Text: "rings written down"})
		},
	},
	"leave": {
		number: 10, picture: RackPicture,
		title: func(c context) string { return "Not brought in: " + c.name(c.blade) },
		do: func(c context) []string {
			row, _ := c.plan.Blade(c.blade)
			blade, _ := c.profile.BladeByID(c.blade)
			var lines []string
			last := "It stays not ready. Type later to go on with the others."
			if c.waits(blade) {
				set, _ := c.profile.KnifeByID(c.state.Knife.Knife)
				return []string{fmt.Sprintf("It runs with the knife of %s, and the one of %s is set now. Set its knife under other work to bring it in.", c.knifeOf(c.blade), c.set(set.Thickness)), last}
			}
			for _, weight := range []model.Weight{model.Danger, model.Warns} {
				for _, r := range row.Reasons {
					if len(lines) < 3 && r.Weight == weight {
						lines = append(lines, model.Sentence(r.Text))
					}
				}
			}
			if row.Outside != 0 {
				lines = append(lines, "Set this blade aside: it must not run like that, whatever the fence is set to.")
			}
			return append(lines, last)
		},
		why:  words("What cannot be measured in is left not ready, and every card says so."),
		help: []string{"A ring of another thickness may cure it: the plan command tells which one."},
		fields: func(context) []Field {
			return []Field{wordField("later", "Leave it for later", "later")}
		},
		accept: func(t *taking) { t.leave("left for later: not brought in") },
	},
}

func (t *taking) leave(why string) {
	t.record(model.Record{Kind: model.Note, About: model.AboutLeft, Blade: t.blade, Text: why})
}

func (c context) knifeOf(id string) string {
	b, _ := c.profile.BladeByID(id)
	k, _ := c.profile.KnifeByID(b.Knife)
	return c.set(k.Thickness)
}

// cutFields ask for the readings of a blade's half.
func (c context) cutFields() (how, readings Field) {
	how = Field{Key: "how", Label: "Readings are", Hint: "widths or differences", Kind: FieldChoice, Options: []string{"widths", "differences"}, Value: "widths"}
	readings = c.widths("readings", "Readings of this blade's half", 3)
	readings.Min, readings.Max = -20*mm, 2*c.profile.WorkingWidth.Length
	return how, readings
}

// fresh reports whether the next rip wants a fresh piece.
func (c context) fresh() (fresh, first bool) {
	if model.Dropped("fresh-piece") {
		return false, false
	}
	return c.state.NeedsFreshPiece(c.profile, c.blade, c.ringsFor(c.blade))
}

// pieceAtHand is the piece whose reference half is read again: the blade's own, or
// any that the reference cut under this lock.
func (t *taking) pieceAtHand() string {
	pieces := t.state.ReferencePieces(t.state.Lock)
	if pieces[t.blade] {
		return t.blade
	}
	return slices.Min(slices.Collect(maps.Keys(pieces)))
}

func acceptCut(t *taking) {
	fresh, _ := t.context().fresh()
	piece := model.SamePiece
	if fresh {
		piece = model.FreshPiece
	}
	t.takeCut(t.choice("how") == "differences", t.lengths("readings"), model.Record{Piece: string(piece), Rings: t.ringsFor(t.blade)})
}

// takeCut records a blade's readings, as widths or as differences, and tells what
// they are worth.
func (t *taking) takeCut(differences bool, readings []model.Measure, r model.Record) {
	c, w := t.context(), t.profile.WorkingWidth.Length
	wide := readings[0].Length.Abs() >= w/2
	if !holds("cut-how", wide != differences) {
		t.fault("readings", "%s does not look like %s: type widths near %s, or differences near 0", readings[0], map[bool]string{true: "a difference", false: "a width"}[differences], c.set(t.profile.WorkingWidth))
		return
	}
	t.questionSpread("readings", readings)
	r.Kind, r.Lock, r.Blade = model.BladeCut, t.state.Lock, t.blade
	if differences {
		r.Differences = readings
	} else {
		r.Readings = readings
	}
	t.record(r)
	blade := t.blade
	t.after = func(p Procedure) []model.Reason { return p.verdictReasons(blade) }
	next := *t.Procedure
	next.refold()
	if row, _ := next.plan.Blade(blade); row.Basis == model.Measured && row.Offset.Abs() > mm {
		t.question("readings", "that is %s from the datum, far more than predicted", c.show(row.Offset.Abs()))
	}
}

// verdictReasons put a blade's verdict first, then its reasons.
func (p Procedure) verdictReasons(id string) []model.Reason {
	row, _ := p.plan.Blade(id)
	c := context{p, id}
	weight := model.Explains
	if row.Verdict != model.In {
		weight = model.Warns
	}
	first := model.Reason{Code: "verdict", Weight: weight, Text: fmt.Sprintf("%s: the %s cuts %s, plus or minus %s.",
		strings.ToUpper(string(row.Verdict)), c.name(id), c.side(row.Offset), c.result(row.Expanded))}
	return append([]model.Reason{first}, row.Reasons...)
}
