package wizard

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
)

// recordLines tells the records one by one, oldest first, numbered as the place for
// voiding counts them. A record that was voided says so.
func recordLines(p model.Profile) []string {
	voided := map[string]string{}
	for _, r := range p.Records {
		if r.Kind == model.Void {
			voided[r.Of] = r.Why
		}
	}
	out := make([]string, len(p.Records))
	for i, r := range p.Records {
		out[i] = fmt.Sprintf("%d  %s %s  %s", i+1, r.At.UTC().Format("2006-01-02 15:04"), r.By, recordWords(p, r))
		if why, ok := voided[r.Ref()]; ok {
			out[i] += " (VOID: " + why + ")"
		}
	}
	return out
}

var recordTable = map[model.Kind]func(model.Profile, model.Record) string{
	model.Isolation: func(_ model.Profile, r model.Record) string {
		return fmt.Sprintf("isolated: %s, run-down %g s, start control dead", r.How, r.RunDown.Seconds())
	},
	model.Arbor: func(_ model.Profile, r model.Record) string {
		return "arbor cleaned, thread " + r.SpareThread.String() + also("dial", r.Dial)
	},
	model.Mount: func(p model.Profile, r model.Record) string {
		s := fmt.Sprintf("mounted %s, %s", p.BladeName(r.Blade), p.RingNames(r.Rings)) + fitted(r.Knife) + also("rim", r.Dial) + also("turned", r.DialTurned)
		if r.SlotFront.Unit != model.NoUnit {
			s += fmt.Sprintf(", slot %s to %s, fence %s to %s", r.SlotFront, r.SlotRear, r.FenceFront, r.FenceRear)
		}
		return s
	},
	model.Boards: func(_ model.Profile, r model.Record) string {
		return fmt.Sprintf("gauge board %s long, %s at the lead, %s at the tail", r.Length, r.Lead, r.Tail)
	},
	model.KnifeSet: func(_ model.Profile, r model.Record) string {
		return fmt.Sprintf("knife %s set, tip gap %s", r.Knife, r.TipGap) + also("gaps", r.Gaps)
	},
	model.Scale: func(_ model.Profile, r model.Record) string {
		var pairs []string
		for _, pair := range r.Pairs {
			pairs = append(pairs, pair.Set.String()+" reads "+pair.Read.String())
		}
		return "fence scale: " + strings.Join(pairs, ", ")
	},
	model.FenceLock:  func(_ model.Profile, r model.Record) string { return "fence locked at " + r.Width.String() },
	model.FenceMoved: func(model.Profile, model.Record) string { return "the fence may have moved: lock void" },
	model.ReferenceCut: func(p model.Profile, r model.Record) string {
		return fmt.Sprintf("reference half, piece for the %s", p.BladeName(r.Piece)) + also("widths", r.Readings)
	},
	model.BladeCut: func(p model.Profile, r model.Record) string {
		kind := r.Piece + " piece"
		if r.More {
			kind = "more readings"
		}
		return fmt.Sprintf("%s with %s, %s", p.BladeName(r.Blade), p.RingNames(r.Rings), kind) + also("widths", r.Readings) + also("differences", r.Differences)
	},
	model.Sharpened: func(p model.Profile, r model.Record) string {
		return p.BladeName(r.Blade) + " sharpened" + also("plate", r.Plate) + also("kerf", r.Kerf)
	},
	model.Thickness: func(p model.Profile, r model.Record) string {
		return p.BladeName(r.Blade) + " read again" + also("plate", r.Plate) + also("kerf", r.Kerf)
	},
	model.Returned: func(p model.Profile, r model.Record) string {
		return p.BladeName(r.Blade) + " back on the rack, as new" + also("plate", r.Plate) + also("kerf", r.Kerf)
	},
	model.Void: func(_ model.Profile, r model.Record) string { return "void: " + r.Of + ": " + r.Why },
	model.Note: func(p model.Profile, r model.Record) string {
		if r.Blade != "" {
			return p.BladeName(r.Blade) + ": " + r.Text
		}
		return "note: " + r.Text
	},
}

func recordWords(p model.Profile, r model.Record) string {
	words, ok := recordTable[r.Kind]
	if !ok {
		return string(r.Kind)
	}
	return words(p, r)
}

func fitted(knife string) string {
	if knife == "" {
		return ""
	}
	return ", knife " + knife + " fitted"
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
