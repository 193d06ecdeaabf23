package procedure

import "example.com/sawdatum/model"

// Where a measure is taken: on the bench, off paper, or with hands in the saw.
const (
	onBench  = "bench"
	offPaper = "paper"
	inSaw    = "saw"
)

// measuring is what a place needs that asks for a measure of a part: an isolated saw, or
// that the part lies on the bench, or that the value is on paper.
func measuring(part string) func(context) needs {
	return func(c context) needs {
		if part == "blade" {
			return needs{measures: part + " " + c.blade}
		}
		return needs{measures: part}
	}
}

// part is what the place measures that the work stands at.
func (p Procedure) part() string {
	target := p.target()
	if f := table[target.Step].needs; f != nil {
		return f(context{p, target.Blade}).measures
	}
	return ""
}

var sourceSteps = map[string]step{
	"source": {
		number: 2, gate: true, once: true, title: titled("Where is it measured?"),
		do: func(c context) []string {
			target := c.target()
			lines := []string{"Next: " + table[target.Step].title(context{c.Procedure, target.Blade}) + "."}
			for _, where := range c.sources() {
				lines = append(lines, map[string]string{
					onBench:  "bench: it lies on the bench, out of the saw.",
					offPaper: "paper: the figures are read off the manual, a label or a note; nobody measures.",
					inSaw:    "saw: it is in the saw, or hands have to go in: the saw is stopped and isolated first.",
				}[where])
			}
			return lines
		},
		why:  words("No hand goes near the blade with a caliper while the saw can start."),
		help: gateCautions,
		fields: func(c context) []Field {
			return []Field{{Key: "where", Label: "Measured where", Hint: model.Either(c.sources()), Kind: FieldChoice, Options: c.sources()}}
		},
		accept: func(t *taking) {
			where := t.choice("where")
			if where == inSaw {
				t.run.hands = t.part()
				return
			}
			t.run.lies, t.run.paper = t.part(), where == offPaper
		},
	},
}

// sources are where what comes next may be measured. What is bolted to the saw lies on no
// bench, nor does the blade that is on the arbor by the records.
func (c context) sources() []string {
	if part := c.part(); part == "saw" || c.onArbor() != "" && part == "blade "+c.onArbor() {
		return []string{offPaper, inSaw}
	}
	return []string{onBench, offPaper, inSaw}
}

// offArbor refuses a measure on the bench of a blade that is on the arbor by the records.
func (t *taking) offArbor(field, blade string) {
	if c := t.context(); c.onArbor() == blade && t.run.power != Isolated && !t.run.paper {
		t.fault(field, "by the records the %s is on the arbor: go back, type saw, and take it off with the saw isolated", c.name(blade))
	}
}

// laid is the part on the bench once a blade has its id.
func (r *run) laid(old, id string) {
	if r.lies == "blade "+old {
		r.lies = "blade " + id
	}
}

// cleared forgets where a part lies once the work is about another.
func (p *Procedure) cleared() {
	part := p.part()
	if part != p.run.lies {
		p.run.lies, p.run.paper = "", false
	}
	if part != p.run.hands {
		p.run.hands = ""
	}
}
