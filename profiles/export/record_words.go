package export

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
)

// RecordLines tells the records one by one, oldest first, numbered as the place for
// voiding counts them. A record that was voided or corrected says so.
func RecordLines(p model.Profile) []string {
	voided, corrected := map[string]string{}, map[string]bool{}
	for _, r := range p.Records {
		switch r.Kind {
		case model.Void:
			voided[r.Of] = r.Why
		case model.Correction:
			corrected[r.Of] = true
		}
	}
	out := make([]string, len(p.Records))
	for i, r := range p.Records {
		out[i] = fmt.Sprintf("%d  %s %s  %s", i+1, r.At.UTC().Format("2006-01-02 15:04"), r.By, RecordWords(p, r))
		if why, ok := voided[r.Ref()]; ok {
			out[i] += " (VOID: " + why + ")"
		} else if corrected[r.Ref()] {
			out[i] += " (CORRECTED further down)"
		}
	}
	return out
}

var recordTable = map[model.Kind]func(model.Profile, model.Record) string{
	model.Isolation: func(_ model.Profile, r model.Record) string {
		down := "stood still already"
		if !r.Still {
			down = fmt.Sprintf("run-down %g s", r.RunDown.Seconds())
		}
		if r.Typed {
			down += " (typed)"
		}
		if r.Answers != "" {
			down += ", " + r.Answers + " answers for it"
		}
		return fmt.Sprintf("isolated: %s, %s, start control dead", r.How, down)
	},
	model.TakenOff: func(p model.Profile, r model.Record) string {
		s := "taken off: no blade"
		if r.Blade != "" {
			s = "taken off: " + p.BladeName(r.Blade)
		}
		if s += ", " + p.RingNames(r.Rings); r.Knife != "" {
			s += ", knife " + p.KnifeName(r.Knife)
		}
		if r.Left != "" {
			return s + "; knife " + p.KnifeName(r.Left) + " stays in"
		}
		return s + "; the saw is empty"
	},
	model.Arbor: func(_ model.Profile, r model.Record) string {
		return "arbor cleaned" + also("dial", r.Dial)
	},
	model.Mount: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("mounted %s, %s", p.BladeName(r.Blade), p.RingNames(r.Rings)) + withKnife(p, r.Knife)
	},
	model.Line: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("knife %s in line with %s, tip gap %s", p.KnifeName(r.Knife), p.BladeName(r.Blade), r.TipGap) + also("behind the tips", r.Faces)
	},
	model.Felt: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("knife %s felt behind %s with %s", p.KnifeName(r.Knife), p.BladeName(r.Blade), p.RingNames(r.Rings)) + also("behind the tips", r.Faces)
	},
	model.HeelToe: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("heel and toe of %s, slot %s, fence %s", p.BladeName(r.Blade), toRear(r.SlotFront, r.SlotRear), toRear(r.FenceFront, r.FenceRear))
	},
	model.Rim: func(p model.Profile, r model.Record) string {
		return "rim of " + p.BladeName(r.Blade) + also("dial", r.Dial) + also("turned", r.DialTurned)
	},
	model.Boards: func(_ model.Profile, r model.Record) string {
		return fmt.Sprintf("gauge board %s long, %s at the lead, %s at the tail", r.Length, r.Lead, r.Tail)
	},
	model.KnifeSet: func(p model.Profile, r model.Record) string {
		return "knife " + p.KnifeName(r.Knife) + " set" + also("gaps", r.Gaps)
	},
	model.KnifeMoved: func(p model.Profile, r model.Record) string {
		return "knife " + p.KnifeName(r.Knife) + " moved in its slot: to be checked"
	},
	model.KnifeGone: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("knife %s is gone: %s", p.KnifeName(r.Knife), r.Text)
	},
	model.KnifeBack: func(p model.Profile, r model.Record) string {
		return "knife " + p.KnifeName(r.Knife) + " is there again"
	},
	model.Scale: func(p model.Profile, r model.Record) string {
		var pairs []string
		for _, pair := range r.Pairs {
			read, fine := pair.Read.String(), model.Computed(p.Instruments.Caliper.Length, p.Units)
			if fine > 0 && pair.Read.Length%fine != 0 { // a mean
				read = pair.Read.Length.Show(p.Units, fine)
			}
			pairs = append(pairs, pair.Set.String()+" reads "+read)
		}
		return "fence scale: " + strings.Join(pairs, ", ")
	},
	model.FenceLock:  func(_ model.Profile, r model.Record) string { return "fence locked at " + r.Width.String() },
	model.FenceMoved: func(model.Profile, model.Record) string { return "the fence may have moved: lock void" },
	model.StripCut: func(p model.Profile, r model.Record) string {
		what := map[model.StripFor]string{model.Datum: "reference strip", model.ForBlade: "strip", model.Closing: "closing strip"}[r.For]
		if r.Of != "" {
			what = "read again, " + what
		}
		return fmt.Sprintf("%s of %s with %s", what, p.BladeName(r.Blade), p.RingNames(r.Rings)) + also("widths", r.Readings) + also("differences", r.Differences)
	},
	model.Sharpened: func(p model.Profile, r model.Record) string {
		s := p.BladeName(r.Blade) + " sharpened" + also("plate", r.Plate) + also("kerf", r.Kerf)
		if r.Datum != "" {
			s += ", the datum " + string(r.Datum)
		}
		return s
	},
	model.Remeasured: func(p model.Profile, r model.Record) string {
		s := p.BladeName(r.Blade) + " read again"
		if r.Back {
			s = p.BladeName(r.Blade) + " back on the rack, as new"
		}
		return s + also("plate", r.Plate) + also("kerf", r.Kerf) + also("beside the teeth", r.ToothPlate) + runout(r.Runout)
	},
	model.Box: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("on the box of %s: %s, knife %s", p.BladeName(r.Blade), p.RingNames(r.Rings), p.KnifeName(r.Knife))
	},
	model.Found: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("found when cleaned for %s: %s", p.BladeName(r.Blade), r.Text)
	},
	model.Kept: func(p model.Profile, r model.Record) string {
		for _, strip := range p.Records {
			if strip.Ref() == r.Of {
				return fmt.Sprintf("the strip of %s of %s UTC stood apart, was looked at and counts", p.BladeName(strip.Blade), strip.At.UTC().Format("2006-01-02 15:04"))
			}
		}
		return "a strip stood apart, was looked at and counts: " + r.Of
	},
	model.Void: func(_ model.Profile, r model.Record) string { return "void: " + r.Of + ": " + r.Why },
	model.Note: func(p model.Profile, r model.Record) string {
		if r.Blade != "" {
			return p.BladeName(r.Blade) + ": " + r.Text
		}
		return "note: " + r.Text
	},
}

// RecordWords tells one record in a few words, as it was typed.
func RecordWords(p model.Profile, r model.Record) string {
	if now := r; r.Kind == model.Correction && model.Correctable(model.RefKind(r.Of)) {
		now.Kind, now.Of = model.RefKind(r.Of), ""
		return "correction: " + r.Of + ": " + RecordWords(p, now)
	}
	words, ok := recordTable[r.Kind]
	if !ok {
		return string(r.Kind)
	}
	return words(p, r)
}

func runout(m model.Measure) string {
	if m.Unit == model.NoUnit {
		return ""
	}
	return ", runout " + m.String()
}

func withKnife(p model.Profile, knife string) string {
	if knife == "" {
		return ""
	}
	return ", knife " + p.KnifeName(knife) + " fitted"
}

// also names a list of readings where there is one: all in one unit have as many digits
// as the longest, and the unit once.
func also(what string, ms []model.Measure) string {
	if len(ms) == 0 {
		return ""
	}
	words, digits, unit := make([]string, len(ms)), 0, ms[0].Unit
	for i, m := range ms {
		words[i] = m.String()
		number, label, _ := strings.Cut(words[i], " ")
		_, decimals, _ := strings.Cut(number, ".")
		digits = max(digits, len(decimals))
		if m.Unit != unit || label != unit.Label() {
			unit = model.NoUnit
		}
	}
	step, ok := map[model.Unit]model.Length{model.MM: model.Millimetre, model.IN: model.Inch}[unit]
	if !ok {
		return ", " + what + " " + strings.Join(words, " ")
	}
	for range digits {
		step /= 10
	}
	for i, m := range ms {
		words[i], _, _ = strings.Cut(m.Length.Show(unit, step), " ")
	}
	return ", " + what + " " + strings.Join(words, " ") + " " + unit.Label()
}

// toRear says where one tooth stood at the front and at the rear; by a dial, how much farther
// at the rear.
func toRear(front, rear model.Measure) string {
	if front.Length != 0 {
		return front.String() + " to " + rear.String()
	}
	if rear.Length > 0 {
		return "by dial +" + rear.String() + " at the rear"
	}
	return "by dial " + rear.String() + " at the rear"
}
