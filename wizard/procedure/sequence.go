package procedure

import (
	"iter"

	"example.com/sawdatum/model/interlock"
)

// target is the row that the work is about, whatever gate stands before it: other work
// that was begun, else the first row that is not done.
func (p Procedure) target() (*Row, Context) {
	if p.begun != nil {
		return p.begun, p.now.For(p.about)
	}
	var last *Row
	for row, c := range p.rows() {
		if row.open(c) {
			return row, c
		}
		last = row
	}
	return last, p.now
}

// rows are those of the house in their order, those of a block for each of its blades.
func (p Procedure) rows() iter.Seq2[*Row, Context] {
	return func(yield func(*Row, Context) bool) {
		for _, block := range p.house.Blocks {
			for _, blade := range block.blades(p.now) {
				c := p.now.For(blade)
				for r := range block.Rows {
					if !yield(&block.Rows[r], c) {
						return
					}
				}
			}
		}
	}
}

func (b Block) blades(c Context) []string {
	if b.Each == nil {
		return []string{""}
	}
	return b.Each(c)
}

// open reports whether a row is due: it applies, and is not done.
func (r *Row) open(c Context) bool {
	return (r.When == nil || r.When(c)) && (r.Done == nil || !r.Done(c))
}

// here is the row where the work stands, or the gate that has to be passed before it.
func (p Procedure) here() (*Row, Context) {
	row, c := p.before()
	c.Again = c.Fact(answered(row)) != ""
	return row, c
}

// answered is that a row was answered in this run.
func answered(r *Row) Fact { return Fact{Name: "answered " + r.Name} }

func (p Procedure) before() (*Row, Context) {
	row, c := p.target()
	c.paper = p.paper == Place{row.Name, c.Blade}
	var need interlock.Need
	if row.Needs != nil {
		need = row.Needs(c)
	}
	if power := row.Act.power(); power != interlock.Unknown {
		need.Power = power
	}
	if m, ok := row.Act.(Measure); ok && !m.open(p.now.Lock, c) {
		if !p.isolate && p.now.Lock.Next(need) == interlock.Open {
			c.Blade = m.Part(c)
			return p.house.Where, c
		}
		need.Power = interlock.Isolated
	}
	if gate := p.now.Lock.Next(need); gate != interlock.Open {
		c.Need = need
		return p.house.Gate(gate, c), c
	}
	return row, c
}

// stage is the stage of the row that the work is about.
func (p Procedure) stage() int {
	row, _ := p.target()
	return row.Stage
}

// PlaceStatus is one line of the trail: what is done, what comes.
type PlaceStatus struct {
	Place   Place
	Stage   int
	Title   string
	Done    bool
	Current bool
}

// Places is the trail of this run, in order: the rows that apply.
func (p Procedure) Places() []PlaceStatus {
	at, here := p.target()
	var out []PlaceStatus
	for row, c := range p.rows() {
		if row.When == nil || row.When(c) {
			out = append(out, PlaceStatus{
				Place: Place{row.Name, c.Blade}, Stage: row.Stage, Title: row.Title(c),
				Done: row.Done != nil && row.Done(c), Current: row == at && c.Blade == here.Blade,
			})
		}
	}
	return out
}
