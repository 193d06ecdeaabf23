package procedure

import (
	"strings"

	"example.com/sawdatum/model"
)

// Known is what a run knows beside the records, without times and words. Two
// procedures with one Known, one head and one State go on alike.
type Known struct {
	Power                            Power
	Who, Fence, Stopped, Long, Slow  bool
	Adding, Rack, Rim, Reason, Sharp bool
	Seen                             bool
	Isolated, Held, Finished         bool
	Again                            Place
	Knife, Asked, Out, Clean, Behind string
	Lies, Hands                      string
	Paper                            bool
}

// Known tells tests what the run knows.
func (p Procedure) Known() Known {
	r := p.run
	return Known{
		Power: r.power, Who: r.who != "", Fence: p.FenceKnown(), Stopped: r.stopped, Long: r.runDown > longestRunDown, Slow: r.slow,
		Adding: r.adding, Rack: r.rack, Rim: r.rim, Seen: r.seen, Reason: r.reason, Sharp: r.sharp,
		Isolated: r.isolated, Held: r.held, Finished: r.finished,
		Again: r.again, Knife: r.knife, Asked: r.asked, Out: r.out, Clean: r.clean, Behind: r.behind, Lies: r.lies, Hands: r.hands, Paper: r.paper,
	}
}

// Folded is the procedure without what follows from its profile; Unfolded puts that back.
func (p Procedure) Folded() Procedure {
	p.state, p.plan = model.State{}, model.Plan{}
	return p
}

// Unfolded is a folded procedure as it was.
func (p Procedure) Unfolded() Procedure {
	p.refold()
	return p
}

// Began is how many records there were when the run began.
func (p Procedure) Began() int { return p.start }

// needNames are what a place can need of the saw.
var needNames = map[string]struct {
	has  func(needs) bool
	take func(*needs)
}{
	"isolated": {func(n needs) bool { return n.power == Isolated }, func(n *needs) { n.power = Unknown }},
	"live":     {func(n needs) bool { return n.power == Live }, func(n *needs) { n.power = Unknown }},
	"blade":    {func(n needs) bool { return n.blade != "" }, func(n *needs) { n.blade = "" }},
	"fence":    {func(n needs) bool { return n.fence }, func(n *needs) { n.fence = false }},
	"board":    {func(n needs) bool { return n.board }, func(n *needs) { n.board = false }},
	"datum":    {func(n needs) bool { return n.datum }, func(n *needs) { n.datum = false }},
}

// Needs lists what the places need of the saw: "knife needs board".
func Needs(p Procedure) []string {
	var out []string
	for step, row := range table {
		for name, need := range needNames {
			if need.has(row.needs(context{p, "rip"})) {
				out = append(out, step+" needs "+name)
			}
		}
	}
	return out
}

// WithoutNeed takes one of Needs out of the table until put is called.
func WithoutNeed(guard string) (put func()) {
	step, name, _ := strings.Cut(guard, " needs ")
	row, need := table[step], needNames[name]
	spared := row
	spared.needs = func(c context) needs {
		n := row.needs(c)
		need.take(&n)
		return n
	}
	table[step] = spared
	return func() { table[step] = row }
}

// Steps lists the rows of the step table.
func Steps() []string {
	var out []string
	for key := range table {
		out = append(out, key)
	}
	return out
}
