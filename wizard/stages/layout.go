package stages

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

var (
	laidOut = procedure.Fact{Name: "laid out", Lasts: true}
	carries = procedure.Fact{Name: "blades carried", Lasts: true} // how many, of a saw whose rack is not typed yet
	reads   = procedure.Fact{Name: "units", Lasts: true}          // of a saw of which nothing is on file yet
)

// bladesToCut is how many blades beside the reference a setup compares.
func bladesToCut(c context) int {
	if n := len(comparing(c)); n > 0 || c.Profile.Reference != "" {
		return n
	}
	n := len(c.Profile.Rack())
	if n == 0 {
		n, _ = strconv.Atoi(c.Fact(carries))
	}
	return max(0, n-1)
}

// blanks is how many blanks a setup takes: for the scale, the reference and its closing
// strip, two a blade, and two to spare a blade. The gauge board is none of them.
func blanks(blades int) int {
	return shop.ScaleStrips + shop.DatumStrips + 1 + (shop.BladeStrips+spareStrips)*blades
}

// spareStrips are laid out beside those that a blade wants.
const spareStrips = 2

// blanksOf is how many blanks the whole of a run takes. One blade again wants the reference
// strips too, where a lock is new, and as many blanks as a setup where the datum moved with it;
// a pair wants one to spare for each blade.
func blanksOf(c context) int {
	if n, err := strconv.Atoi(c.Fact(laidOut)); err == nil {
		return n
	}
	switch c.Options.Mode {
	case procedure.Setup:
		return blanks(bladesToCut(c))
	case procedure.OneBlade:
		if n := len(comparing(c)); n > 1 {
			return blanks(n)
		}
		n := shop.BladeStrips + spareStrips
		if datum := datumOf(c, c.State.Lock); len(datum) < shop.DatumStrips || datum[shop.DatumStrips-1].Index >= c.Started {
			n += shop.DatumStrips
		}
		return n
	}
	return 2 * (pairStrips(c) + 1)
}

// blanksLeft is how many blanks of a run are left: those that were ripped in it are gone, also
// where what they told was voided since. Of the fence scale each pair has a strip of its own, and
// a record of it begins with the pairs of the one before.
func blanksLeft(c context) int {
	used, before := 0, []model.Pair(nil)
	for i, r := range c.All() {
		now := i >= c.Started
		switch {
		case r.Kind == model.Scale:
			ripped := len(r.Pairs)
			if n := len(before); n < ripped && slices.Equal(before, r.Pairs[:n]) {
				ripped -= n
			}
			if before = r.Pairs; now {
				used += ripped
			}
		case now && r.Kind == model.StripCut && r.Of == "":
			used++
		}
	}
	return max(0, blanksOf(c)-used)
}

// aBlank is the blank that is ripped next: with how many are left, or that another has to be cut.
// How many lie there is not known of a setup that goes on from records: no first page had them laid out.
func aBlank(c context) string {
	if c.Options.Mode == procedure.Setup && c.Fact(laidOut) == "" {
		return "a new blank"
	}
	if n := blanksLeft(c); n > 0 {
		return fmt.Sprintf("a new blank; %d left", n)
	}
	return "a new blank; none is left: cut one like the others"
}

// workingWidth is the width that is compared at; of a new saw the one that is offered.
func workingWidth(c context) model.Length {
	if w := c.Profile.WorkingWidth; w.Unit != model.NoUnit {
		return w.Length
	}
	if c.Unit() == model.IN {
		return model.Inch * 11 / 2
	}
	return 140 * mm
}

// blankSize is the size of a blank: long enough to be ripped safely, and wide enough for
// strip, kerf and an offcut.
func blankSize(c context) string {
	w := workingWidth(c) + spareWidth + 4*mm
	return round(c, max(goodBlank, w*3/2)) + " x " + round(c, w)
}

// round is a size of stock as a tape shows it, up to a round figure.
func round(c context, l model.Length) string {
	step := 10 * mm
	if c.Unit() == model.IN {
		step = model.Inch / 2
	}
	return ((l + step - 1) / step * step).Tape(c.Unit())
}

// asked is what a setup asks for, in its order, in lines that fit a sheet.
var asked = []string{
	"your initials; how the saw is isolated, and that it is",
	"dead, before hands go in each time; then the saw, the manual's figures, arbor,",
	"knives, teeth, plate and kerf of every blade, every ring; which blade is the",
	"reference; the fence, blade and knife, set and measured; strips of every blade,",
	"ripped and read; the rings written on its box.",
}

// layoutRow is the first page: what to lay out before anything begins, how long it takes, and
// in which unit.
var layoutRow = row{
	Name: "layout", Stage: 1, Title: form.Said("What to lay out"),
	Done: func(c context) bool { return c.Fact(laidOut) != "" || len(c.All()) > 0 },
	Act: procedure.Paper{
		Says: func(c context) []string {
			c = inTyped(c, c.Fact(reads))
			blades := bladesToCut(c)
			if c.Options.Unkept {
				return []string{"Lay out nothing: this is what a real saw takes.", "About 15 min here, " + howLong(blades) + " at a saw.", "Leave any time: nothing of it is kept.", "F1 or ? lists what you will be asked."}
			}
			first, long := "Lay out and prepare what stands below.", "About 2 h 35 min for five blades."
			if blades > 0 {
				first, long = fmt.Sprintf("Prepare %d blanks of %s and a gauge board.", blanks(blades), blankSize(c)), "About "+howLong(blades)+". On paper: sawdatum layout."
			}
			return []string{first, long, "Leave any time: it is saved; go on later.", "F1 or ? lists what you will be asked."}
		},
		Accept: func(t *taking) {
			if t.Typed("blades") {
				t.Keep(carries, t.Text("blades"))
				t.Keep(reads, t.Choice("units"))
			} else if units := t.Fact(reads); units != "" {
				t.Head(func(p *model.Profile) { p.Units = shop.UnitsNamed[units] })
			}
			if len(t.Profile.Rack()) > 0 || t.Fact(carries) != "" && !t.Typed("blades") {
				t.Keep(laidOut, strconv.Itoa(blanks(bladesToCut(t.Context))))
			}
		},
	},
	Help: []string{
		"You will be asked for " + strings.Join(asked, " "),
		"sawdatum layout prints this page: with the name of a profile, or with --blades 5 for a new saw.",
		"The time is an estimate: 75 minutes up to the strips of the reference blade, then 20 a blade.",
	},
	Fields: func(c context) []field {
		if len(c.Profile.Rack()) == 0 && c.Fact(carries) == "" {
			return []field{{Key: "blades", Label: "How many blades does this saw carry", Hint: "1 to 32, such as 5", Kind: procedure.FieldCount, AtLeast: 1, AtMost: 32}, shop.UnitsField(c)}
		}
		label := "All of it is laid out"
		if c.Options.Unkept {
			label = "You have read it"
		}
		return []field{form.Choice("ready", label, "ready", "ready")}
	},
	Figure: func(c context, a answers) procedure.Figure {
		f := procedure.Figure{Caption: "blanks"}
		if blades := bladesTyped(c, a); blades > 0 {
			f.Text = strconv.Itoa(blanks(blades))
		}
		return f
	},
	Picture: func(c context, a answers) procedure.Picture {
		units := cmp.Or(strings.ToLower(strings.TrimSpace(a["units"])), c.Fact(reads))
		return layoutList(inTyped(c, units), bladesTyped(c, a))
	},
}

// inTyped is the moment in the unit that is typed, before it is on file.
func inTyped(c context, units string) context {
	if u, ok := shop.UnitsNamed[units]; ok {
		c.Profile.Units = u
	}
	return c
}

// bladesTyped is how many blades beside the reference there are by what is typed, else as far
// as it is known.
func bladesTyped(c context, a answers) int {
	if n, err := strconv.Atoi(strings.TrimSpace(a["blades"])); err == nil && n >= 1 && n <= 32 {
		return n - 1
	}
	return bladesToCut(c)
}

// howLong is how long a setup takes with so many blades beside the reference: an estimate.
func howLong(blades int) string {
	minutes := 75 + 20*blades
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

// layoutList is what to lay out: the blanks with number and size, and what lies on the bench.
func layoutList(c context, blades int) picture.List {
	long := round(c, gaugeBoard(c)+100*mm)
	if c.Profile.Saw.ThroatLength.Unit == model.NoUnit {
		long = c.Pick("900 mm", "36 in")
	}
	l := picture.List{Left: []string{"MDF of " + c.Pick("16 to 19 mm", "5/8 to 3/4 in") + ", from one sheet"}, Right: []string{
		"On the bench", "micrometer, caliper, dial if any", "feelers, depth gauge, straightedge", "square, height block, clamp", "all blades, knives, rings",
		"plug, or lock and its key", "push stick, gloves, pencil, manual",
	}}
	pile := func(n int, what, size string) { l.Left = append(l.Left, fmt.Sprintf("%3d  %-18s %s", n, what, size)) }
	blank := blankSize(c)
	pile(1, "gauge board", long+" x "+round(c, 300*mm))
	pile(shop.ScaleStrips, "fence scale", blank)
	pile(shop.DatumStrips+1, "reference, closing", blank)
	if blades > 0 {
		pile(shop.BladeStrips*blades, fmt.Sprintf("blades, %d each", shop.BladeStrips), blank)
		pile(2*blades, "to spare", blank)
	}
	return l
}

// Layout is the first page as text, to be printed: for a profile, or a new saw that carries so
// many blades.
func Layout(p model.Profile, carried int) string {
	none := func(model.Profile, time.Time) procedure.Plan { return procedure.Plan{} }
	c := procedure.New(p, procedure.House{Blocks: []procedure.Block{{Rows: []row{layoutRow}}}}, none, procedure.Options{}).Now()
	if n := len(p.Rack()); n > 0 {
		carried = n
	}
	out := []string{"What to lay out before the setup of " + model.Printable(p.Name), ""}
	if carried > 1 {
		out = append(out, fmt.Sprintf("%d blades: %d blanks and the gauge board; about %s.", carried, blanks(carried-1), howLong(carried-1)), "")
	}
	list := layoutList(c, max(0, carried-1))
	out = append(append(append(out, list.Left...), ""), list.Right...)
	return strings.Join(append(out, "",
		"Blanks of one sheet and one day, their fence edges of one kind; none shorter",
		"than this.",
		"Write on each strip at once: blade, number, fence edge.", "",
		"You will be asked for "+strings.Join(asked, "\n")), "\n") + "\n"
}
