package model

import (
	"fmt"
	"slices"
	"time"
)

// records checks every record from first on against the head and against those
// before it.
func (v *validation) records(first int) {
	known := newLedger(v.profile)
	names := slices.ContainsFunc(v.profile.Records[first:], func(r Record) bool { return r.Of != "" || r.Mounting != "" || r.Kind == Void || r.Kind == Correction })
	var last time.Time
	for i := range v.profile.Records {
		r := &v.profile.Records[i]
		if known.at = i; i >= first {
			v.stamp(&known, r, last)
			v.body(&known, r)
		} else if r.Kind == FenceLock {
			known.locks[r.Lock] = true
		}
		last = r.At
		if names {
			known.note(r)
		}
	}
}

// note takes in a record that those behind it may name. A corrected one is as it was
// corrected.
func (known *ledger) note(r *Record) {
	if first := known.refs[r.Of]; r.Kind == Correction && first != nil {
		known.refs[r.Of] = corrected(first, r)
	}
	known.refs[r.Ref()] = r
}

func (v *validation) stamp(known *ledger, r *Record, last time.Time) {
	if r.At.Before(last) {
		v.record(known, "at", "records stand in the order of their times", "%s is before the record above it", r.At.UTC().Format(time.RFC3339Nano))
	}
	switch {
	case known.hands[r.By]:
	case InitialsForm.MatchString(r.By):
		known.hands[r.By] = true
	default:
		v.record(known, "by", "write one to four letters, such as KB", "%q are not initials", Clip(r.By))
	}
}

// ledger is what the head and the records so far have named.
type ledger struct {
	at                           int
	refs                         map[string]*Record
	locks, blades, rings, knives map[string]bool
	hands                        map[string]bool // initials found good
	kind                         map[Kind][]kindCheck
}

func newLedger(p Profile) ledger {
	known := ledger{refs: map[string]*Record{}, locks: map[string]bool{}, blades: map[string]bool{}, rings: map[string]bool{}, knives: map[string]bool{}, hands: map[string]bool{}, kind: map[Kind][]kindCheck{}}
	for _, b := range p.Blades {
		known.blades[b.ID] = true
	}
	for _, r := range p.Rings {
		known.rings[r.ID] = true
	}
	for _, k := range p.Knives {
		known.knives[k.ID] = true
	}
	return known
}

func (v *validation) record(known *ledger, key, cure, fault string, a ...any) {
	v.add(fmt.Sprintf("records[%d].%s", known.at, key), cure, fault, a...)
}

func (v *validation) body(known *ledger, r *Record) {
	if _, ok := KindTable[r.Kind]; !ok {
		v.record(known, "kind", "write a kind that the README lists", "%q is not a kind of record", Clip(string(r.Kind)))
		return
	}
	kind := r.Kind
	if kind == Correction {
		if kind = RefKind(r.Of); !Correctable(kind) || known.refs[r.Of] == nil {
			v.record(known, "of", "write time, initials and kind of the record that it corrects: no void, no kept, no other correction", "no record that can be corrected is called %q", Clip(r.Of))
			return
		}
	}
	if r.Kind == FenceLock {
		if known.locks[r.Lock] {
			v.record(known, "lock", "give each fence lock a name of its own", "the lock %q is made twice", Clip(r.Lock))
		}
		known.locks[r.Lock] = true
	}
	for _, c := range known.checks(kind, r.Keys()) {
		if c.Key != "of" || r.Kind != Correction {
			c.check(v, known, string(c.Key), r, c.Required)
		}
	}
	if whole, ok := wholeChecks[kind]; ok {
		whole(v, known, r)
	}
}

// kindCheck is the check of one key of a kind.
type kindCheck struct {
	KeyUse
	check keyCheck
}

func (known *ledger) checks(k Kind, uses []KeyUse) []kindCheck {
	out, ok := known.kind[k]
	if !ok {
		for _, u := range uses {
			if check, ok := keyChecks[u.Key]; ok {
				out = append(out, kindCheck{u, check})
			}
		}
		known.kind[k] = out
	}
	return out
}

type keyCheck func(v *validation, known *ledger, key string, r *Record, required bool)

// keyChecks hold each key of a record to what can be, whatever its kind.
var keyChecks = map[Key]keyCheck{
	"run_down": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		switch {
		case r.RunDown < 0 || r.RunDown > time.Hour:
			v.record(known, key, "write the seconds from switching off to standstill", "%s cannot be", r.RunDown)
		case r.Still == (r.RunDown > 0):
			v.record(known, key, "write the seconds from switching off to standstill, or still: yes where it stood already, one of the two", "a blade either ran down or stood still")
		}
	},
	"how": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if r.How != "unplugged" && r.How != "locked" {
			v.record(known, key, "write unplugged or locked", "%q is not one of the words known here", Clip(r.How))
		}
	},
	"dead":        textCheck(func(r *Record) string { return r.Dead }),
	"dial":        listCheck(anyLength, 0, func(r *Record) []Measure { return r.Dial }),
	"dial_turned": listCheck(anyLength, 0, func(r *Record) []Measure { return r.DialTurned }),
	"span":        lengthCheck(positive, func(r *Record) Measure { return r.Span }),
	"slot_front":  lengthCheck(notNegative, func(r *Record) Measure { return r.SlotFront }),
	"slot_rear":   lengthCheck(anyLength, func(r *Record) Measure { return r.SlotRear }),
	"fence_front": lengthCheck(notNegative, func(r *Record) Measure { return r.FenceFront }),
	"fence_rear":  lengthCheck(anyLength, func(r *Record) Measure { return r.FenceRear }),
	"width":       lengthCheck(positive, func(r *Record) Measure { return r.Width }),
	"length":      lengthCheck(positive, func(r *Record) Measure { return r.Length }),
	"lead":        lengthCheck(positive, func(r *Record) Measure { return r.Lead }),
	"tail":        lengthCheck(positive, func(r *Record) Measure { return r.Tail }),
	"runout":      lengthCheck(notNegative, func(r *Record) Measure { return r.Runout }),
	"answers":     textCheck(func(r *Record) string { return r.Answers }),
	"faces":       listCheck(anyLength, 2, func(r *Record) []Measure { return r.Faces }),
	"gaps":        listCheck(notNegative, 4, func(r *Record) []Measure { return r.Gaps }),
	"tip_gap":     lengthCheck(notNegative, func(r *Record) Measure { return r.TipGap }),
	"cursor":      lengthCheck(anyLength, func(r *Record) Measure { return r.Cursor }),
	"readings":    listCheck(positive, 0, func(r *Record) []Measure { return r.Readings }),
	"differences": listCheck(anyLength, 0, func(r *Record) []Measure { return r.Differences }),
	"plate":       filled(func(r *Record) []Measure { return r.Plate }),
	"kerf":        filled(func(r *Record) []Measure { return r.Kerf }),
	"why":         textCheck(func(r *Record) string { return r.Why }),
	"text":        textCheck(func(r *Record) string { return r.Text }),
	"pairs": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if len(r.Pairs) == 0 {
			v.record(known, key, "write a setting, and what was read there", "no pair is listed")
		}
		for i, p := range r.Pairs {
			at := fmt.Sprintf("records[%d].%s[%d]", known.at, key, i)
			v.needed(at+".set", p.Set, positive)
			v.needed(at+".read", p.Read, positive)
		}
	},
	"blade": func(v *validation, known *ledger, key string, r *Record, required bool) {
		if (required || r.Blade != "") && !known.blades[r.Blade] {
			v.record(known, key, "write the id of a blade in blades", "no blade is called %q", Clip(r.Blade))
		}
	},
	"knife": func(v *validation, known *ledger, key string, r *Record, required bool) {
		if (required || r.Knife != "") && !known.knives[r.Knife] {
			v.record(known, key, "write the id of a knife in knives", "no knife is called %q", Clip(r.Knife))
		}
	},
	"left": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if r.Left != "" && !known.knives[r.Left] {
			v.record(known, key, "write the id of a knife in knives", "no knife is called %q", Clip(r.Left))
		}
	},
	"for": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if !slices.Contains([]StripFor{Datum, ForBlade, Closing}, r.For) {
			v.record(known, key, "write datum, blade or closing", "%q is not one of the words known here", Clip(string(r.For)))
		}
	},
	"datum": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if r.Datum != "" && r.Datum != DatumStays && r.Datum != DatumMoves {
			v.record(known, key, "write stays or moves, or take the key out", "%q is not one of the words known here", Clip(string(r.Datum)))
		}
	},
	"mounting": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if m := known.refs[r.Mounting]; m == nil || RefKind(r.Mounting) != Mount {
			v.record(known, key, "write time, initials and kind of a mount record before this one, such as 2026-03-02T07:42:00Z KB mount", "no mounting is called %q", Clip(r.Mounting))
		}
	},
	"rings": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		for i, id := range r.Rings {
			if !known.rings[id] {
				v.record(known, fmt.Sprintf("%s[%d]", key, i), "write the id of a ring in rings; one that is gone stays there with count: 0", "no ring is called %q", Clip(id))
			}
		}
	},
	"lock": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if r.Lock == "" {
			v.record(known, key, "write the name of the fence lock", "is missing")
		} else if !known.locks[r.Lock] {
			v.record(known, key, "write the lock of a fence_lock record before this one", "no fence lock is called %q", Clip(r.Lock))
		}
	},
	"of": func(v *validation, known *ledger, key string, r *Record, required bool) {
		if (required || r.Of != "") && known.refs[r.Of] == nil {
			v.record(known, key, "write time, initials and kind of a record before this one, such as 2026-03-02T07:42:00Z KB mount", "no record is called %q", Clip(r.Of))
		}
	},
	"about": func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if r.About != AboutTalk && r.About != AboutLeft {
			v.record(known, key, "write left, or take the key out", "%q is not one of the words known here", Clip(string(r.About)))
		}
	},
}

func textCheck(get func(*Record) string) keyCheck {
	return func(v *validation, known *ledger, key string, r *Record, required bool) {
		s := get(r)
		if fault := TextFault(s); fault != "" {
			v.record(known, key, "write at most 200 characters that can be seen", "%s", fault)
		} else if required && s == "" {
			v.record(known, key, "type it in", "is missing")
		}
	}
}

// needed is a length that its record cannot go without.
func (v *validation) needed(path string, m Measure, l least) {
	if m.Unit == NoUnit {
		v.add(path, "write a length with its unit, such as 0.25 mm", "is missing")
		return
	}
	v.length(path, m, l)
}

func lengthCheck(l least, get func(*Record) Measure) keyCheck {
	return func(v *validation, known *ledger, key string, r *Record, required bool) {
		m := get(r)
		if required && m.Unit == NoUnit || m.Length <= 0 || m.Length > MaxLength {
			if required || m.Unit != NoUnit {
				v.needed(fmt.Sprintf("records[%d].%s", known.at, key), m, l)
			}
		}
	}
}

// listCheck holds each reading of a list to what can be, and the list to its number
// of readings; 0: any number.
func listCheck(l least, number int, get func(*Record) []Measure) keyCheck {
	return func(v *validation, known *ledger, key string, r *Record, required bool) {
		list := get(r)
		if required && len(list) == 0 {
			v.record(known, key, "write the readings as a list", "has no readings")
		} else if number > 0 && len(list) != number && (required || len(list) > 0) {
			v.record(known, key, fmt.Sprintf("write %d", number), "%d readings", len(list))
		}
		for i, m := range list {
			if m.Unit == NoUnit || m.Length <= 0 || m.Length > MaxLength {
				v.needed(fmt.Sprintf("records[%d].%s[%d]", known.at, key, i), m, l)
			}
		}
	}
}

// filled is a list that plateAndKerf looks at.
func filled(get func(*Record) []Measure) keyCheck {
	return func(v *validation, known *ledger, key string, r *Record, _ bool) {
		if len(get(r)) == 0 {
			v.record(known, key, "write the readings as a list", "has no readings")
		}
	}
}
