package picture

import (
	"fmt"
	"slices"
	"strings"
)

// Table is a list with a row a thing, numbered, so that each can be gone to by its number.
// Where rows have no room, those that fail and the one at work keep theirs.
type Table struct {
	What    string // of one row, in words: "blade"
	Columns []Column
	Rows    []TableRow
	Note    string  // below the rows: the unit, the signs
	Below   Picture // of the same things, a row each, where there is room for all of both; nil: none
}

// Column is a column of a table. Figures stand right, so that their points stand below each
// other. A column that is spare goes first where the width does not do.
type Column struct {
	Head  string
	Right bool
	Spare bool
}

// TableRow is one thing. Its first cell is its name, and may be cut.
type TableRow struct {
	Cells []string
	Fails bool  // it is marked, and kept in sight
	Whole bool  // nothing is missing of it
	Now   bool  // it is at work
	Hand  []int // its columns that are in hand
}

// Draw gives a head, a row a line, and the note below them.
func (t Table) Draw(w, h int, look Look) string {
	const around = 3 // head or ruler, legend, scale
	own := max(len(t.Rows)+around+1, MinHeight)
	if t.Below == nil || w < MinWidth || h-own < max(len(t.Rows)+around, MinHeight) {
		return draw(w, h, look, t.paint)
	}
	return draw(w, own, look, t.paint) + "\n" + t.Below.Draw(w, h-own, look)
}

const (
	marks = 6 // columns before the name: mark and number
	apart = 2
)

func (t Table) paint(c *canvas) {
	room := c.h - 1
	if t.Note != "" {
		room--
		c.write(0, min(c.h-1, max(len(t.Rows), 1)+2), c.fit(c.w, t.Note), Faint)
	}
	columns, widths := t.widths(c)
	t.line(c, 0, columns, widths, func(i int) string { return t.Columns[i].Head }, func(int) Kind { return Faint })
	shown := t.visible(room)
	for y, i := range shown {
		t.row(c, 1+y, i, columns, widths)
	}
	if left := len(t.Rows) - len(shown); left > 0 {
		c.write(marks, 1+len(shown), c.fit(c.w-marks, fmt.Sprintf("and %d more", left)), Faint)
	}
	if len(t.Rows) == 0 {
		c.write(marks, 1, c.fit(c.w-marks, "none yet"), Faint)
	}
}

func (t Table) row(c *canvas, y, i int, columns, widths []int) {
	r := t.Rows[i]
	mark, kind := " ", Plain
	switch {
	case r.Now:
		mark, kind = ">", Datum
	case r.Fails:
		mark, kind = "!", Danger
	case r.Whole && c.look.Charset == Blocks:
		mark = "✓"
	case r.Whole:
		mark = "x"
	}
	c.write(0, y, mark, kind)
	c.writeRight(marks-apart, y, fmt.Sprint(i+1), Faint)
	if !r.Fails {
		kind = Plain
	}
	t.line(c, y, columns, widths, func(i int) string {
		if i < len(r.Cells) {
			return r.Cells[i]
		}
		return ""
	}, func(i int) Kind {
		if slices.Contains(r.Hand, i) {
			return Datum
		}
		return kind
	})
}

// line sets one text a column.
func (t Table) line(c *canvas, y int, columns, widths []int, text func(i int) string, kind func(i int) Kind) {
	x := marks
	for n, i := range columns {
		k := kind(i)
		if t.Columns[i].Right {
			c.writeRight(x+widths[n], y, c.fit(widths[n], text(i)), k)
		} else {
			c.write(x, y, c.fit(widths[n], text(i)), k)
		}
		x += widths[n] + apart
	}
}

// widths are the columns that have room, and how wide each is. The first, the name, gives way
// by a third; then the spare ones go, the last first, and then the others.
func (t Table) widths(c *canvas) (columns, widths []int) {
	for i := range t.Columns {
		columns = append(columns, i)
	}
	for {
		widths = widths[:0]
		total := marks - apart
		for _, i := range columns {
			n := c.width(t.Columns[i].Head)
			for _, r := range t.Rows {
				if i < len(r.Cells) {
					n = max(n, c.width(r.Cells[i]))
				}
			}
			widths = append(widths, n)
			total += n + apart
		}
		over := total - c.w
		if over <= 0 || len(columns) == 0 {
			return columns, widths
		}
		if least := max(widths[0]*2/3, 12); widths[0]-over >= least {
			widths[0] -= over
			return columns, widths
		}
		last := -1
		for n, i := range columns {
			if t.Columns[i].Spare {
				last = n
			}
		}
		if last < 0 {
			last = len(columns) - 1
		}
		if last == 0 {
			widths[0] = max(0, widths[0]-over)
			return columns, widths
		}
		columns = append(columns[:last:last], columns[last+1:]...)
	}
}

// visible are the rows that have room, in their order: where not all have, first the one at
// work, then those that fail, then the last ones.
func (t Table) visible(room int) (shown []int) {
	if len(t.Rows) <= room {
		for i := range t.Rows {
			shown = append(shown, i)
		}
		return shown
	}
	keep := make([]bool, len(t.Rows))
	left := max(room-1, 0)
	take := func(is func(TableRow) bool) {
		for i := len(t.Rows) - 1; i >= 0 && left > 0; i-- {
			if !keep[i] && is(t.Rows[i]) {
				keep[i] = true
				left--
			}
		}
	}
	take(func(r TableRow) bool { return r.Now })
	take(func(r TableRow) bool { return r.Fails })
	take(func(TableRow) bool { return true })
	for i, kept := range keep {
		if kept {
			shown = append(shown, i)
		}
	}
	return shown
}

// Sentence reads the table row by row.
func (t Table) Sentence() string {
	if len(t.Rows) == 0 {
		return fmt.Sprintf("No %s is there yet.", t.What)
	}
	out := []string{fmt.Sprintf("A table of %d rows, one a %s.", len(t.Rows), t.What)}
	if len(t.Rows) == 1 {
		out[0] = fmt.Sprintf("A table of one row, a %s.", t.What)
	}
	for i, r := range t.Rows {
		var parts []string
		for n, cell := range r.Cells {
			switch {
			case cell == "" || cell == "-" || n >= len(t.Columns): // a dash is not read aloud
			case n == 0:
				parts = append(parts, cell)
			default:
				parts = append(parts, strings.TrimSpace(t.Columns[n].Head+" "+cell))
			}
		}
		out = append(out, fmt.Sprintf("Row %d: %s.", i+1, strings.Join(parts, ", ")))
	}
	if t.Note != "" {
		out = append(out, strings.ToUpper(t.Note[:1])+t.Note[1:]+".")
	}
	return strings.Join(out, " ")
}
