package solver

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
	"example.com/sawdatum/testdata/update"
)

// history is what happened at the bay, and whose rows are looked at.
type history struct {
	name string
	of   string // blades, or plan
	do   func() *days
}

// TestRowsWhole: rows and plans word by word, as they were read through; what single figures have
// to be and why, other tests say.
func TestRowsWhole(t *testing.T) {
	var b strings.Builder
	for _, h := range slices.Concat(benchHistories, stripHistories, lockHistories, feltHistories) {
		fmt.Fprintf(&b, "== %s\n", h.name)
		d := h.do()
		plan := d.plan()
		for _, of := range strings.Fields(h.of) {
			if row, ok := plan.Row(of); ok {
				writeRow(&b, row)
			} else {
				writePlan(&b, plan)
			}
		}
		b.WriteByte('\n')
	}
	const file = "testdata/rows.txt"
	if *update.Goldens {
		if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got, wanted := strings.Split(b.String(), "\n"), strings.Split(string(want), "\n")
	history := ""
	for i, line := range got {
		if strings.HasPrefix(line, "==") {
			history = line
		}
		if i >= len(wanted) || line != wanted[i] {
			t.Fatalf("%s, line %d of %s:\n got  %s\n want %s", history, i+1, file, line, strings.Join(wanted[min(i, len(wanted)):min(i+1, len(wanted))], ""))
		}
	}
	if len(wanted) > len(got) {
		t.Errorf("%s has %d lines more", file, len(wanted)-len(got))
	}
}

// TestReasonsStandByThemselves: what is said of a blade is read on walls and boxes too, where it has no rings or
// strips beside it to point at, and nobody is to mount anything for it.
func TestReasonsStandByThemselves(t *testing.T) {
	pointing := regexp.MustCompile(`(?i)\b(these rings|this lock|this stack|mount it|mount the|put (it|them|the \w+) (back )?on)\b`)
	for _, h := range slices.Concat(benchHistories, stripHistories, lockHistories, feltHistories) {
		for _, row := range h.do().plan().Blades {
			for _, r := range row.Reasons {
				if at := pointing.FindString(r.Text); at != "" {
					t.Errorf("%s, %s, %s: %q in %s", h.name, row.ID, r.Code, at, r.Text)
				}
			}
		}
	}
}

func writeRow(b *strings.Builder, r model.BladeRow) {
	words := []string{fmt.Sprintf("%s: %s [%s] %s, %s", r.ID, r.Basis, strings.Join(r.Stack, " "), r.Verdict, r.State)}
	for _, x := range []struct {
		word string
		is   any
	}{{"owed to", r.Owed}, {"used up", r.UsedUp}, {"knife out", r.OutKnife}, {"knife only", r.KnifeOnly}, {"stands in", r.StandIn}, {"moved", r.Moved}, {"inside", r.Inside}, {"unseen", r.Unseen},
		{"strips", r.Strips}, {"datum", r.Datum}, {"left", r.Left}, {"goes", r.Goes}, {"proofs", r.Proofs}, {"pair", r.Pair}, {"more own", r.MoreOwn}, {"more datum", r.MoreDatum}} {
		switch x.is {
		case false, 0, "":
		case true:
			words = append(words, x.word)
		default:
			words = append(words, fmt.Sprint(x.word, " ", x.is))
		}
	}
	if r.Proved != nil {
		words = append(words, "proved "+r.ProvedAt.Format("01-02 15:04"))
	}
	if !r.Due.IsZero() {
		words = append(words, "due "+r.Due.Format("01-02"))
	}
	if len(r.Further) > 0 {
		words = append(words, fmt.Sprint("further ", r.Further))
	}
	fmt.Fprintf(b, "%s\n", strings.Join(words, ", "))
	fmt.Fprintf(b, "  offset %.4f +- %.4f, want %.4f, height %.4f, residual %.4f, knife %s, play %.3f, gap %.3f, face %.3f", mm(r.Offset), mm(r.Expanded), mm(r.Want), mm(r.Height), mm(r.Residual), r.Knife, mm(r.Play), mm(r.Gap), mm(r.CutFace))
	if r.Fallback.Unit != model.NoUnit {
		fmt.Fprintf(b, ", until then %s", r.Fallback)
	}
	b.WriteByte('\n')
	for _, w := range r.Ways {
		fmt.Fprintf(b, "  way %s [%s] [%s] %d %d %.4f %.2f: %s\n", w.Kind, strings.Join(w.Stack, " "), strings.Join(w.Rings, " "), w.Swaps, w.Strips, mm(w.Expect), w.Chance, w.Text)
	}
	writeReasons(b, r.Reasons)
}

func writePlan(b *strings.Builder, p model.Plan) {
	l := p.Lock
	fmt.Fprintf(b, "plan %q: reference %s, standing [%s]\n", p.Name, p.Reference, strings.Join(p.Standing, " "))
	writeReasons(b, p.Reasons)
	fmt.Fprintf(b, "  lock: datum %d, wanted %d, round %d, closing %d, broken %v\n", l.Datum, l.Wanted, l.Round, l.Closing, l.Broken)
	writeReasons(b, l.Reasons)
	for _, q := range p.Questioned {
		fmt.Fprintf(b, "  question: record %d, strip %d of %s, %.4f beyond %.4f\n", q.Strip, q.Number, q.Blade, mm(q.Far), mm(q.Limit))
		writeReasons(b, []model.Reason{q.Reason})
	}
}

func writeReasons(b *strings.Builder, reasons []model.Reason) {
	for _, r := range reasons {
		fmt.Fprintf(b, "  %s (%d): %s\n", r.Code, r.Weight, r.Text)
	}
}

func mm(l model.Length) float64 { return float64(l) / float64(model.Millimetre) }

// head is the bay with nothing done, its head changed.
func head(change func(p *model.Profile)) func() *days {
	return func() *days {
		p := shop()
		p.Blades, p.Rings, p.Knives = slices.Clone(p.Blades), slices.Clone(p.Rings), slices.Clone(p.Knives)
		change(&p)
		return &days{p: p}
	}
}

// after is begunWith with a head changed, and what was done then.
func after(change func(p *model.Profile), do func(d *days)) func() *days {
	return func() *days {
		d := begunWith(func(p *model.Profile) {
			p.Blades, p.Rings, p.Knives = slices.Clone(p.Blades), slices.Clone(p.Rings), slices.Clone(p.Knives)
			change(p)
		})
		do(d)
		return d
	}
}

func asItIs(*model.Profile) {}

// what hands do that the records name by themselves.
func (d *days) off(blade string, rings ...string) *days {
	return d.do(model.Record{Kind: model.TakenOff, Blade: blade, Rings: rings, Knife: "k25"})
}

func (d *days) sharpened(blade string, kerf float64, goes model.DatumGoes) *days {
	b, _ := d.p.BladeByID(blade)
	return d.do(model.Record{Kind: model.Sharpened, Blade: blade, Plate: b.Plate, Kerf: thrice(kerf), Datum: goes})
}

func (d *days) voidLast() *days {
	return d.do(model.Record{Kind: model.Void, Of: d.p.Records[len(d.p.Records)-1].Ref(), Why: "slip"})
}

func (d *days) line(blade, knife string, faces ...float64) *days {
	return d.do(model.Record{Kind: model.Line, Blade: blade, Rings: d.on.Rings, Knife: knife, TipGap: given.Typed(5), Faces: given.Readings(faces...)})
}

// tips is the gap to the tooth tips as it was seen behind a blade.
func (d *days) tips(blade, knife string, gap float64) *days {
	return d.do(model.Record{Kind: model.Line, Blade: blade, Rings: []string{}, Knife: knife, TipGap: given.Typed(gap)})
}

// differ are strips read as differences, the caliper zeroed on what is given.
func (d *days) differ(on []string, off ...float64) *days {
	for _, o := range off {
		d.do(model.Record{Kind: model.StripCut, Lock: d.lock, Blade: d.on.Blade, Rings: d.on.Rings, Mounting: d.on.Ref(), For: model.ForBlade, Differences: given.Readings(o, o, o), Zeroed: on})
	}
	return d
}

// pair is a proof of a blade against the reference, the knife left in.
func (d *days) pair(lock, blade string, rings []string, widths []float64, datum ...float64) *days {
	return d.mount(blade, rings...).fence(lock).rip(model.ForBlade, widths...).mount("general").rip(model.Datum, datum...)
}

func (d *days) nextDay(day int) *days { d.tomorrow = day; return d }
