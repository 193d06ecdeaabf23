package shop

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// rackRow is the rack as a table: the next blade is put into it, and any row can be gone to
// and mended, until it is whole.
var rackRow = row{
	Name: "rack", Stage: 4, Title: form.Said("The rack"),
	Done: func(c context) bool {
		return c.Fact(rackWhole) != "" || c.Profile.Reference != "" && len(c.Profile.Rack()) > 1
	},
	Act: procedure.Paper{
		Says: func(c context) []string {
			if len(c.Profile.Rack()) == 0 {
				return []string{"Type the name of the first blade, then what is read of it.", "Two blades at least: the others are brought to the line of one."}
			}
			if rackOffered(c) != "" {
				return []string{"All there: press enter. Else type the next."}
			}
			return []string{"Type the name of the next blade; whole when all are there.", "To mend row 2 type 2; its plate and kerf: 2 kerf."}
		},
		Accept: func(t *taking) {
			text := t.Text("more")
			if id, what, ok := rowTyped(t.Context, text); ok {
				t.Begin(what, id)
				return
			}
			if !strings.EqualFold(text, Whole) {
				if number, _, _ := strings.Cut(text, " "); hasRow(t.Context, number) {
					t.Question("more", "row %s is mended by %s, or %s kerf; %q would be a new blade", number, number, number, text)
				}
				addBlade(t, "more")
				return
			}
			if len(t.Profile.Rack()) < 2 {
				t.Fault("more", "one blade has nothing to be compared with: type the name of another")
			}
			t.Keep(rackWhole, Whole)
		},
	},
	Help: []string{"One blade becomes the reference, and the others are brought to its line.", "The numbers then say which, and which rings each of the others wants."},
	Fields: func(c context) []field {
		hint := "its name, such as 48-tooth general"
		if n := len(c.Profile.Rack()); n > 0 {
			hint = "such as 48-tooth general; row: 1"
			if n > 1 {
				hint = fmt.Sprintf("such as 48-tooth general; row: 1 to %d", n)
			}
		}
		return []field{field{Key: "more", Label: "The next blade, a row, or whole", Hint: hint, Kind: procedure.FieldText, Table: rackCells(c), Value: rackOffered(c)}.With(func(text string) error {
			if _, _, ok := rowTyped(c, text); ok {
				return nil
			}
			if m := aRow.FindStringSubmatch(text); m != nil {
				return fmt.Errorf("the rack has no row %s, it has %d so far: a name has a word in it, such as 48-tooth general", model.Clip(m[2]), len(c.Profile.Rack()))
			}
			return newName(c, text, "")
		})}
	},
	Picture: func(c context, a answers) procedure.Picture {
		id, mend, _ := rowTyped(c, a["more"])
		t := rackTable(c, id)
		if windows, is := knifeWindow(c, "").(picture.Picture); is {
			t.Below = windows
		}
		for i := range t.Rows {
			if t.Rows[i].Now {
				t.Rows[i].Hand = map[*row][]int{&bladeRow: {0, 1, 2}, &thicknessRow: {3, 4}}[mend]
			}
		}
		return t
	},
}

// rackOffered is what is offered at the rack: whole, where it was on file before this run, and
// nothing of any blade is left to be read.
func rackOffered(c context) string {
	if c.Again || len(c.Profile.Rack()) < 2 || slices.ContainsFunc(rackTable(c, "").Rows, func(r picture.TableRow) bool { return !r.Whole }) {
		return ""
	}
	return Whole
}

// Whole ends the list of blades, and that of rings.
const Whole = "whole"

var rackWhole = procedure.Fact{Name: "rack whole", Lasts: true}

// aRow is a text that means a row of the rack, and what is mended of it.
var aRow = regexp.MustCompile(`(?i)^\s*(?:row\s*)?(?:(kerf|plate)\s*)?([+-]?\d+)\s*(kerf|plate)?\s*$`)

// rowTyped is the row of the rack that a text goes to, and what is mended of it: its markings,
// or plate and kerf.
func rowTyped(c context, text string) (id string, mend *row, ok bool) {
	m := aRow.FindStringSubmatch(text)
	if m == nil {
		return "", nil, false
	}
	mend = &bladeRow
	if m[1]+m[3] != "" {
		mend = &thicknessRow
	}
	n, err := strconv.Atoi(m[2])
	if ids := RackBlades(c); err == nil && n >= 1 && n <= len(ids) {
		return ids[n-1], mend, true
	}
	return "", nil, false
}

// rackCells are what is typed for each row of the rack, and for its plate and kerf.
func rackCells(c context) (rows [][]string) {
	for i := range RackBlades(c) {
		n := strconv.Itoa(i + 1)
		rows = append(rows, []string{n, n + " kerf"})
	}
	return rows
}

// hasRow reports whether a number is that of a row of the rack.
func hasRow(c context, number string) bool {
	_, _, ok := rowTyped(c, number)
	return ok
}

// rackTable is the rack, a row a blade, with what the numbers make of it so far; the row at
// work is marked.
func rackTable(c context, now string) picture.Table {
	digits := c.Profile.Instruments.Micrometer.Length
	shown := func(l model.Length) string {
		if l == 0 {
			return ""
		}
		return practice.Bare(l.Show(c.Unit(), digits))
	}
	t := picture.Table{What: "blade", Note: c.Pick("millimetres", "inches") + "; wants: rings behind it", Columns: []picture.Column{
		{Head: "blade"}, {Head: "teeth", Right: true}, {Head: "dia", Right: true, Spare: true}, {Head: "plate", Right: true}, {Head: "kerf", Right: true},
		{Head: "knife"}, {Head: "wants", Right: true, Spare: true},
	}}
	for _, b := range c.Profile.Rack() {
		read := BladeRead(c, b.ID)
		knife, wants, fails := rackSays(c, b)
		dia := ""
		if Known(b.Diameter) {
			dia = c.Size(b.Diameter.Length)
		}
		t.Rows = append(t.Rows, picture.TableRow{
			Cells: []string{b.Name(), count(b.Teeth), dia, shown(read.Plate), shown(read.Kerf), knife, wants},
			Fails: fails, Whole: b.Teeth > 0 && Known(b.Diameter, b.Bore) && read.Plate > 0 && read.Kerf > 0, Now: b.ID == now,
		})
	}
	return t
}

// rackSays is what the numbers make of a blade: whether its knife fits, and what it wants.
func rackSays(c context, b model.Blade) (knife, wants string, fails bool) {
	k, named := c.Profile.KnifeByID(b.Knife)
	if !named || !thicknessRead(c.For(b.ID)) {
		return "", "", false
	}
	knife = c.Size(k.Thickness.Length) + " fits"
	if fit := form.KnifeFit(c, b.ID); fit != model.KnifeFits {
		knife, fails = strings.ToUpper(strings.ReplaceAll(string(fit), "-", " ")), true
	}
	row, ok := c.Plan.Row(b.ID)
	switch {
	case b.ID == c.Plan.Reference:
		wants = "reference"
	case ok && row.Basis != "" && !fails:
		wants = practice.Bare(c.Result(row.Want))
	}
	return knife, wants, fails
}

// markingsTyped is the moment with what is typed of a blade's markings so far.
func markingsTyped(c context, a answers) context {
	teeth, _ := strconv.Atoi(strings.TrimSpace(a["teeth"]))
	diameter, err := model.ParseLength(a["diameter"], c.Unit())
	return c.WithHead(func(p *model.Profile) {
		p.Blades = slices.Clone(p.Blades)
		for i := range p.Blades {
			if b := &p.Blades[i]; b.ID == c.Blade {
				if b.Teeth = teeth; err == nil {
					b.Diameter = diameter
				}
			}
		}
	})
}
