package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
)

// step is one row of the table: what a place needs of the saw, what it shows and
// asks, and what follows from the answers. Sequencer, faces and tests read it.
type step struct {
	number  int // of the procedure, 1 to 11
	gate    bool
	once    bool // not gone back to
	picture Picture
	needs   func(context) needs
	title   func(context) string
	do      func(context) []string
	why     func(context) []string
	help    []string
	fields  func(context) []Field
	accept  func(*taking)
}

// context is what the words of a place are made from.
type context struct {
	Procedure
	blade string
}

// taking is an answer on its way into the procedure: accept writes to it, and a
// fault drops all of it.
type taking struct {
	*Procedure
	here    Place
	blade   string
	at      time.Time
	answers map[string]string
	fields  []Field
	faults  []Fault
	changed bool
	after   func(Procedure) []model.Reason // computed once the records are read anew
}

var table map[string]step

func init() {
	table = map[string]step{}
	for _, part := range []map[string]step{headSteps, rackSteps, gateSteps, arborSteps, fenceSteps, compareSteps, outSteps, sourceSteps, otherSteps, closingSteps} {
		for key, row := range part {
			if row.needs == nil {
				row.needs = func(context) needs { return needs{} }
			}
			table[key] = row
		}
	}
}

// View is what the faces show of the present place.
func (p Procedure) View() View {
	here := p.Place()
	row, c := table[here.Step], context{p, here.Blade}
	v := View{
		Place: here, Number: table[p.target().Step].number, Title: row.title(c), Do: row.do(c), Help: row.help,
		Gate: row.gate, Fields: row.fields(c), Picture: row.picture, Blade: here.Blade,
		Again: p.run.again == here, Last: here.Step == "close", Hold: here.Step == "hold",
	}
	if row.why != nil {
		v.Why = row.why(c)
	}
	v.Do, v.Why, v.Help = c.read(v.Do), c.read(v.Why), c.read(v.Help)
	switch {
	case here.Blade != "" && len(p.profile.Blades) > 0:
		v.Rings = p.ringsFor(here.Blade)
	case here.Step == "power" && p.state.Mounted != nil:
		v.Rings = p.state.Mounted.Rings
	case here.Step == "knife":
		v.Knife = c.knifeWanted().ID
	}
	return v
}

// read is lines as the shop reads lengths.
func (c context) read(lines []string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = c.unit().Words(line)
	}
	return out
}

// like is made-up readings near the working width, as this shop types them.
func (c context) like(off ...model.Length) string {
	return model.Like(c.profile.WorkingWidth.Length, c.unit(), off...)
}

// likePairs is a made-up reading of the scale at half the working width, and at it.
func (c context) likePairs() string {
	pair := func(l, off model.Length) string {
		set, read, _ := strings.Cut(model.Like(l, c.unit(), 0, off), " ")
		return strings.TrimSuffix(strings.TrimRight(set, "0"), ".") + "=" + read
	}
	w := c.profile.WorkingWidth.Length
	return pair(w/2, 12) + " " + pair(w, 11)
}

func words(s ...string) func(context) []string { return func(context) []string { return s } }
func titled(s string) func(context) string     { return func(context) string { return s } }

func isolated(context) needs { return needs{power: Isolated} }

func (c context) unit() model.Unit {
	if c.profile.Units == model.IN {
		return model.IN
	}
	return model.MM
}

// show is a length as this shop reads it.
func (c context) show(l model.Length) string { return l.Show(c.unit(), 0) }

// result is a computed length: one digit more than the caliper shows.
func (c context) result(l model.Length) string {
	return l.Show(c.unit(), c.profile.Instruments.Caliper.Length/10)
}

// side says how far and on which side of the datum a blade cuts, from its offset.
func (c context) side(offset model.Length) string {
	shown := c.result(offset.Abs())
	switch {
	case shown == c.result(0):
		return "at the datum"
	case offset > 0:
		return "parts " + shown + " wide"
	}
	return "parts " + shown + " narrow"
}

func (c context) set(m model.Measure) string {
	if m.Unit == model.NoUnit {
		return "?"
	}
	return m.String()
}

// name is a blade as people call it.
func (c context) name(id string) string {
	if b, ok := c.profile.BladeByID(id); ok && b.Label != "" {
		return b.Label
	}
	if id == "" {
		return "blade"
	}
	return id
}

// rings names rings in the order in which they go on.
func (c context) rings(ids []string) string {
	if len(ids) == 0 {
		return "no rings"
	}
	var out []string
	for _, id := range ids {
		r, ok := c.profile.RingByID(id)
		if !ok {
			out = append(out, id)
			continue
		}
		out = append(out, r.Label())
	}
	return strings.Join(out, " + ")
}

func (c context) ringsTyped(ids []string) string {
	if len(ids) == 0 {
		return "none"
	}
	var out []string
	for _, id := range ids {
		r, _ := c.profile.RingByID(id)
		out = append(out, strings.ReplaceAll(r.Label(), " ", ""))
	}
	return strings.Join(out, " ")
}

func (c context) knifeWanted() model.Knife {
	id := c.nextKnife()
	if id == "" && c.state.Knife != nil && c.state.Aligned {
		id = c.state.Knife.Knife
	}
	if id == "" {
		b, _ := c.profile.BladeByID(c.profile.Reference)
		id = b.Knife
	}
	k, _ := c.profile.KnifeByID(id)
	return k
}

// gaugeBoard is the least length of the gauge board, so that it bears on the table on both
// sides of the throat opening: 150 mm at each end (common practice).
func (c context) gaugeBoard() model.Length {
	return c.profile.Saw.ThroatLength.Length + 300*model.Millimetre
}

func wordField(key, label, word string) Field {
	return Field{Key: key, Label: label, Hint: "type " + word, Kind: FieldWord, Word: word}
}

func (t *taking) text(key string) string { return strings.TrimSpace(t.answers[key]) }

func (t *taking) field(key string) Field {
	i := slices.IndexFunc(t.fields, func(f Field) bool { return f.Key == key })
	if i < 0 {
		return Field{}
	}
	return t.fields[i]
}

func (t *taking) length(key string) model.Measure {
	m, _ := model.ParseLength(t.text(key), t.field(key).Unit)
	return m
}

// lengthOrNone is a length that may stay empty; NoUnit then.
func (t *taking) lengthOrNone(key string) model.Measure {
	if t.text(key) == "" {
		return model.Measure{}
	}
	return t.length(key)
}

func (t *taking) lengths(key string) []model.Measure {
	if t.text(key) == "" {
		return nil
	}
	ms, _ := model.ParseReadings(t.text(key), t.field(key).Unit)
	return ms
}

func (t *taking) choice(key string) string {
	s, _ := t.field(key).Choice(t.text(key))
	return s
}

func (t *taking) count(key string) int {
	n, _ := strconv.Atoi(t.text(key))
	return n
}

func (t *taking) ringList(key string) []string {
	ids, _ := t.profile.ParseStack(t.text(key))
	return ids
}

func (t *taking) fault(field, format string, a ...any) {
	t.faults = append(t.faults, Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

func (t *taking) question(field, format string, a ...any) {
	t.faults = append(t.faults, Fault{Field: field, Text: fmt.Sprintf(format, a...) + ": type the same again if it is so", Question: true})
}

// limit holds a field to a rule: what is a danger is refused, what is a warning is asked
// again, and the rest is told.
func (t *taking) limit(field string, reasons []model.Reason) {
	for _, r := range reasons {
		switch {
		case model.Dropped(t.here.Step + "-" + field):
		case r.Weight == model.Danger:
			t.fault(field, "%s", r.Text)
		case r.Weight == model.Warns:
			t.question(field, "%s", r.Text)
		default:
			t.run.report = append(t.run.report, r)
		}
	}
}

func (t *taking) onlyQuestions() bool {
	for _, f := range t.faults {
		if !f.Question {
			return false
		}
	}
	return true
}

func (t *taking) context() context { return context{*t.Procedure, t.blade} }

// record adds a record behind the others. Its time is after theirs, so that two
// copies of a profile merge in the order in which things were done, and every record
// has a Ref of its own.
func (t *taking) record(r model.Record) {
	r.At, r.By = t.at.UTC().Truncate(time.Second), t.run.who
	if last := t.last(); !r.At.After(last) {
		r.At = last.UTC().Truncate(time.Second).Add(time.Second)
	}
	records := t.profile.Records
	if n := len(records); n > 0 && records[n-1].Kind == r.Kind && model.Dropped("correction-is-a-new-record") {
		records = records[:n-1]
	}
	t.profile.Records = append(records[:len(records):len(records)], r)
	t.changed = true
}

// lockName is the name of a fence lock made now.
func (t *taking) lockName() string {
	at := t.at
	if last := t.last(); at.Before(last) {
		at = last
	}
	name := at.UTC().Format("20060102-150405") + "-" + t.run.who
	for _, r := range t.profile.Records {
		if r.Kind == model.FenceLock && r.Lock == name {
			return name + "-" + strconv.Itoa(len(t.profile.Records))
		}
	}
	return name
}

func (t *taking) say(code string, weight model.Weight, format string, a ...any) {
	t.run.report = append(t.run.report, model.Reason{Code: code, Weight: weight, Text: fmt.Sprintf(format, a...)})
}
