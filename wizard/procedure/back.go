package procedure

import (
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// fix is a correction under way: what is typed once more, and the row that took it.
type fix struct {
	row            *Row
	was            Context // the moment before the record: what is shown beside its readings
	blade          string
	of             model.Record // whose readings they are; without a kind: they stand in the head
	records, heads int          // how many lie before it
}

// head is what was typed into the head of the profile: at which row, and behind how many
// records.
type head struct {
	row     *Row
	blade   string
	records int
}

// back opens the newest reading of this profile for correction, or the one before the one
// that is open. What hands did stays done, and the work stays where it was.
func back(p Procedure, _ Event) (Procedure, error) {
	at := fix{records: len(p.now.Profile.Records), heads: len(p.heads)}
	if p.fix != nil {
		at = *p.fix
	}
	for at.row = nil; at.row == nil; {
		switch {
		case at.heads > 0 && p.heads[at.heads-1].records >= at.records:
			at.heads--
			at.row, at.blade, at.of = p.heads[at.heads].row, p.heads[at.heads].blade, model.Record{}
		case at.records > 0:
			at.records--
			r := p.now.Profile.Records[at.records]
			if row := p.reads(r); row != nil && p.counts(r) {
				at.row, at.blade, at.of = row, row.Reads.about(r), p.corrected(r)
			}
		default:
			return p, p.refuse("there is no reading before this to correct")
		}
	}
	if at.of.Kind != "" && p.now.Who == "" {
		return p, p.refuse(unsigned)
	}
	p = p.happened(interlock.TurnedAway())
	at.was = p.now.For(at.blade)
	if at.of.Kind != "" {
		at.was = at.was.before(at.records)
	}
	p.fix = &at
	return p, nil
}

// reads is the row that took a record's readings; nil: none of them does.
func (p Procedure) reads(r model.Record) *Row {
	lists := [][]Row{p.house.Work}
	for _, b := range p.house.Blocks {
		lists = append(lists, b.Rows)
	}
	for _, rows := range lists {
		for i := range rows {
			if reads := rows[i].Reads; reads != nil && reads.Kind == r.Kind && (reads.Of == nil || reads.Of(r)) && len(reads.Typed(p.now.For(reads.about(r)), r)) > 0 {
				return &rows[i]
			}
		}
	}
	return nil
}

// counts reports whether nobody has voided a record.
func (p Procedure) counts(r model.Record) bool {
	return !slices.ContainsFunc(p.now.Profile.Records, func(v model.Record) bool { return v.Kind == model.Void && v.Of == r.Ref() })
}

// corrected is a record as its newest correction has it.
func (p Procedure) corrected(r model.Record) model.Record {
	for _, c := range p.now.Profile.Records {
		if c.Kind == model.Correction && c.Of == r.Ref() {
			c.Kind, c.By, c.At, c.Of = r.Kind, r.By, r.At, r.Of
			r = c
		}
	}
	return r
}

// correction is the view of a correction: only typed, nothing done.
func (p Procedure) correction() View {
	c, row := p.fix.was, p.fix.row
	v := View{
		Place: Place{row.Name, c.Blade}, Stage: row.Stage, Title: "Correct: " + row.Title(c),
		Do:    []string{"Type what the reading should have been. Touch nothing at the saw for this."},
		Why:   []string{"What was typed before stays in the records. To measure again, do the step again instead."},
		Visit: p.visit, Correcting: true, row: row, context: c,
	}
	if p.fix.of.Kind == "" {
		v.Why = []string{"It takes the place of what was typed. To measure again, do the step again instead."}
		v.Fields = slices.DeleteFunc(row.Fields(c), func(f Field) bool { return f.Kind == FieldWord })
		return v
	}
	before := row.Reads.Typed(c, p.fix.of)
	for _, f := range row.Fields(c) {
		if slices.Contains(row.Reads.Keys, f.Key) {
			f.Value, f.Measuring = before[f.Key], false
			v.Fields = append(v.Fields, f)
		}
	}
	return v
}

// take corrects what stands in the head, or records a correction: the whole record anew, with the readings that are typed. Of
// names the first record, never a correction of it.
func (f *fix) take(t *Taking, row *Row) {
	if f.of.Kind == "" {
		row.Head(t)
		return
	}
	r := f.of
	row.Reads.Put(t, &r)
	r.Kind, r.Of = model.Correction, f.of.Ref()
	t.Record(r)
}

// forward leaves a correction, or other work, for where the work stands.
func forward(p Procedure, _ Event) (Procedure, error) {
	if p.fix == nil && p.begun == nil {
		return p, p.refuse("this is where the work stands")
	}
	p = p.happened()
	p.fix, p.begun = nil, nil
	return p, nil
}

// again is the row of a place whose physical act can be done again.
func (p Procedure) again(place Place) *Row {
	for b := range p.house.Blocks {
		rows := p.house.Blocks[b].Rows
		for i := range rows {
			if rows[i].Name == place.Step && rows[i].Redo != nil {
				return &rows[i]
			}
		}
	}
	return nil
}

// begin begins other work, or does a physical act again: its fact is dropped, and the
// sequencer leads to it, gates and all.
func begin(p Procedure, e Event) (Procedure, error) {
	if !slices.ContainsFunc(p.Tasks(), func(t Task) bool { return t.Place == e.Place }) {
		return p, p.refuse("that cannot begin now")
	}
	for i := range p.house.Work {
		if p.house.Work[i].Name == e.Place.Step {
			p = p.happened(interlock.TurnedAway())
			p.fix, p.begun, p.about = nil, &p.house.Work[i], ""
			return p, nil
		}
	}
	row := p.again(e.Place)
	t := &Taking{Context: p.now.For(e.Place.Blade)}
	t.Does(interlock.TurnedAway())
	row.Redo(t)
	if len(t.unmet) > 0 {
		return p, p.refuse(t.unmet...)
	}
	p.begun = nil
	return p.settle(View{Place: e.Place}, t), nil
}
