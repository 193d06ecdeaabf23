package stages

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// Sizes of blanks (common practice): goodBlank is long enough to be
// ripped and read well; a blank is spareWidth wider than strip and kerf.
const (
	goodBlank  = 600 * mm
	spareWidth = 30 * mm
)

// datumOf lists the strips under a lock that others are compared with: where both the reference and a
// stand-in ripped some under the one in force, those of the blade that carries it.
func datumOf(c context, lock string) (out []model.Strip) {
	by := ""
	if lock == c.State.Lock {
		by = c.Plan.Lock.Carrier
	}
	return datumBy(c, lock, by)
}

// datumBy lists those that one blade ripped; of every blade where it is empty.
func datumBy(c context, lock, blade string) (out []model.Strip) {
	for _, s := range c.State.Strips {
		if s.Lock == lock && s.For == model.Datum && s.Present && (blade == "" || s.Blade == blade) {
			out = append(out, s)
		}
	}
	return out
}

// nextDatum counts the next strip of the blade that is to carry the datum.
func nextDatum(c context) int { return len(datumBy(c, c.State.Lock, carrier(c))) + 1 }

// needing is what a rip with a blade under the lock in force needs.
func needing(c context, blade string, rings []string) interlock.Need {
	return interlock.Need{On: dressed(c, blade, rings), Lock: c.State.Lock}
}

// ripOrders tell how a strip is ripped and read.
func ripOrders(c context, strip string) []string {
	return []string{
		fmt.Sprintf("Rip %s right through %s.", strip, aBlank(c)),
		"Factory edge at fence. At standstill take both.",
		"Wipe and number it. Read its width at 3 places.",
	}
}

// widthsField asks for the readings of a strip.
func widthsField(c context, label string) field {
	w := form.Setting(c)
	f := form.Lengths(c, "readings", label, "3 or more, such as "+model.Like(w, c.Unit(), 0, 1, 0), nil, form.LeastReadings, 12, w/2, 2*w)
	return form.Ruled(f, form.Each(form.RipWidth(c)))
}

// scatter holds the readings of one strip against each other: one that stands apart is
// named, and where three scatter by more than a step of the caliper, five are wanted.
func scatter(t *taking, key string, ms []model.Measure) {
	ls := model.Lengths(ms)
	form.Asked(t, key, form.Each(form.RipWidth(t.Context))(ls))
	sorted := slices.Sorted(slices.Values(ls))
	middle, step := sorted[len(sorted)/2], t.Profile.Instruments.Caliper.Length
	for i, l := range ls {
		if d := (l - middle).Abs(); d > mm/2 {
			t.Question(key, "reading %d, %s, stands %s apart from the others", i+1, t.Show(l), t.Show(d))
			return
		}
	}
	spread := sorted[len(sorted)-1] - sorted[0]
	if most := t.Profile.Tolerance.Length; shop.Known(t.Profile.Tolerance) && spread > most {
		t.Question(key, "the readings of this one strip spread by %s, more than the tolerance of %s: look for a burr, a chip, fuzz; wipe it and read it again", t.Show(spread), t.Show(most))
		return
	}
	if spread > step && len(ls) < 5 {
		t.Question(key, "the readings spread by %s, more than a step of the caliper: read five places", t.Show(spread))
	}
}

func putWidths(t *taking, r *record) {
	r.Readings = t.Lengths("readings")
	scatter(t, "readings", r.Readings)
}

// stripsRead ties a row to the strips that were ripped for what it rips them for.
func stripsRead(put func(*taking, *record), what ...model.StripFor) *procedure.Reads {
	return &procedure.Reads{Kind: model.StripCut, Of: func(r record) bool { return slices.Contains(what, r.For) }, Keys: []string{"readings"}, Typed: typedWidths, Put: put}
}

func typedWidths(c context, r record) map[string]string {
	read := append(slices.Clone(r.Readings), r.Differences...)
	if len(read) == 0 {
		return nil
	}
	return map[string]string{"readings": form.TypedAll(c, read)}
}

// referenceRow rips the strips that the others are compared with.
var referenceRow = row{
	Name: "reference", Stage: 9,
	Title: func(c context) string {
		if of := carrier(c); of != c.Profile.Reference {
			return fmt.Sprintf("Strip %d of %d of the %s, for the reference", min(nextDatum(c), shop.DatumStrips), shop.DatumStrips, c.Name(of))
		}
		return fmt.Sprintf("Reference strip %d of %d", min(nextDatum(c), shop.DatumStrips), shop.DatumStrips)
	},
	When: func(c context) bool { return len(comparing(c)) > 0 },
	Done: func(c context) bool {
		return c.State.Lock != "" && len(datumOf(c, c.State.Lock)) >= shop.DatumStrips || roundOver(c)
	},
	Needs: func(c context) interlock.Need { return needing(c, carrier(c), stackOf(c, carrier(c))) },
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return ripOrders(c, fmt.Sprintf("reference strip %d", nextDatum(c)))
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.StripCut, Lock: t.State.Lock, Blade: t.State.On.Blade, Rings: t.State.On.Rings, Mounting: t.State.On.Mounting, For: model.Datum}
			putWidths(t, &r)
			t.Record(r)
			t.Does(interlock.Ripped(p))
		},
	},
	Why: ripCautions, Help: append([]string{"The other strips are compared with these, and they show how well a rip repeats in this shop."}, ripHelp...),
	Fields: func(c context) []field {
		return []field{widthsField(c, fmt.Sprintf("Widths of reference strip %d", nextDatum(c)))}
	},
	Simulated: practice.StripsSimulated,
	Reads:     stripsRead(putWidths, model.Datum),
	Picture:   func(c context, a answers) procedure.Picture { return ownPicture(c, a, datumOf(c, c.State.Lock)) },
}

// stripsPicture lays the strips of a blade beside the reference strips of the lock in force, with
// the one that is being typed.
func stripsPicture(c context, a answers, strips []model.Strip) picture.Strips {
	p := stripsLaid(c, c.State.Lock, strips)
	var widths, differences []model.Length
	for _, l := range readSoFar(c, a["readings"]) {
		if l > c.Profile.WorkingWidth.Length/2 {
			widths = append(widths, l)
		} else {
			differences = append(differences, l)
		}
	}
	if len(differences) > 0 && len(widths) > 0 { // the last one is not typed to its end
		differences = nil
	}
	p.Rows = append(p.Rows, stripLaid(p, widths, differences))
	return p
}

// ownPicture lays strips that others are compared with beside their own mean.
func ownPicture(c context, a answers, strips []model.Strip) picture.Strips {
	return besideOwn(stripsPicture(c, a, strips))
}

func besideOwn(p picture.Strips) picture.Strips {
	var means []model.Length
	for i, r := range p.Rows {
		if p.Rows[i].Read = r.Mean != 0; r.Mean != 0 { // a difference is of nothing yet
			means = append(means, r.Mean)
		}
	}
	p.Own, p.Datum, p.Of = true, form.Mean(means), len(means)
	for i, r := range p.Rows {
		if r.Mean != 0 {
			p.Rows[i].Step = r.Mean - p.Datum
		}
	}
	return p
}

// readSoFar are the readings that are typed to their end, without a last one that no strip can have;
// none where an earlier one is refused for its width.
func readSoFar(c context, text string) []model.Length {
	text = model.Finished(text)
	ls := form.Readings(c, text)
	words := strings.Fields(text)
	if len(words) > 0 && (len(ls) == 0 || farOff(c, ls[len(ls)-1])) {
		ls = form.Readings(c, strings.Join(words[:len(words)-1], " "))
	}
	if slices.ContainsFunc(ls, func(l model.Length) bool { return farOff(c, l) }) {
		return nil
	}
	return ls
}

// farOff reports whether the field of a strip refuses a reading.
func farOff(c context, read model.Length) bool {
	return slices.ContainsFunc(form.RipWidth(c)(read), func(r reason) bool { return r.Weight == model.Danger })
}

// stripsLaid lays strips beside the reference strips of a lock.
func stripsLaid(c context, lock string, strips []model.Strip) picture.Strips {
	p := picture.Strips{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide, Tolerance: c.Profile.Tolerance.Length}
	p.Resolution = model.Computed(p.Resolution, p.Unit)
	var means []model.Length
	for _, s := range datumOf(c, lock) {
		means = append(means, form.Mean(model.Lengths(s.Readings)))
	}
	p.Datum, p.Of = form.Mean(means), len(means)
	for _, s := range strips {
		p.Rows = append(p.Rows, stripLaid(p, model.Lengths(s.Readings), model.Lengths(s.Differences)))
	}
	return p
}

// stripLaid is the next strip of a picture, by its widths or by its differences from the
// reference strips; one without either is not read yet.
func stripLaid(p picture.Strips, widths, differences []model.Length) picture.StripRow {
	r := picture.StripRow{Name: fmt.Sprintf("strip %d", len(p.Rows)+1), Read: len(widths)+len(differences) > 0}
	if len(widths) > 0 {
		r.Mean = form.Mean(widths)
		r.Step = r.Mean - p.Datum
		if p.Of == 0 {
			r.Step = 0
		}
	} else if len(differences) > 0 {
		r.Step = form.Mean(differences)
	}
	return r
}

// judgedPicture lays the strips by which a blade was judged, those of the last lock, beside the
// reference strips of that lock.
func judgedPicture(c context) procedure.Picture {
	strips := stand(c, c.Blade).strips
	if len(strips) == 0 {
		return nil
	}
	lock := strips[len(strips)-1].Lock
	p := stripsLaid(c, lock, slices.DeleteFunc(slices.Clone(strips), func(s model.Strip) bool { return s.Lock != lock }))
	p.Guard = guard(c)
	return p
}

// guard is what is not known of the steps of a blade that has its strips.
func guard(c context) model.Length {
	row, _ := c.Plan.Row(c.Blade)
	if row.Basis != model.Measured {
		return 0
	}
	return row.Expanded
}
