package picture

import (
	"cmp"
	"fmt"
	"strings"

	"example.com/sawdatum/model"
)

// proof is which rings the blade runs with; of the reference, which has no verdict, whether it is
// ready with them.
func (b RackBlade) proof(long bool) string {
	rings, state := "no rings", ", "+strings.ReplaceAll(string(cmp.Or(b.State, model.StateNotReady)), "-", " ")
	if b.Rings != "" {
		rings = b.Rings
		if long {
			rings = "rings " + rings
		}
	}
	if !b.Reference {
		return rings
	}
	if b.State == model.StateReady || b.State == model.StateDue {
		state = strings.ToUpper(state)
	}
	return rings + state
}

// inWords are what a blade that is in reads, as it stands; "check" where nothing is known of that.
var inWords = map[model.Readiness]string{model.StateReady: "IN", model.StateDue: "DUE", model.StateNotClosed: "NOT CLOSED", model.StateNotReady: "NOT READY"}

// verdict is the word and the figures, lined up on the decimal point. One that must not run
// reads "not ready", and no figure.
func (r Rack) verdict(c *canvas, room int, b RackBlade) string {
	word := strings.ToUpper(string(b.Verdict))
	switch {
	case b.Reference:
		return c.fit(room, "REFERENCE", "REF")
	case b.Verdict == "":
		return c.fit(room, "NOT READY", "NOT")
	case b.Verdict == model.In:
		word = cmp.Or(inWords[b.State], "CHECK")
	}
	side := r.aside(b.After)
	first, _, _ := strings.Cut(word, " ")
	short := fmt.Sprintf("%-5s %s", word, side)
	long := short
	if b.Expanded > 0 {
		long += " ±" + r.bare(b.Expanded)
	}
	return c.fit(room, long+" "+decimalUnit(r.Unit).Label(), long, short, word, first)
}

// aside is how far off the datum a part comes out: narrow where the cut face lies toward the
// fence, which is + here.
func (r Rack) aside(l model.Length) string {
	switch {
	case !r.shown(l):
		return "at datum"
	case l > 0:
		return unitless(r.size(l)) + " narrow"
	}
	return unitless(r.size(l)) + " wide"
}

// Sentence names every blade with its verdict.
func (r Rack) Sentence() string {
	if len(r.Blades) == 0 {
		return "There are no blades in the rack yet."
	}
	var parts []string
	for _, b := range r.Blades {
		switch {
		case !b.Known:
			parts = append(parts, b.name()+" is not measured yet")
		case b.Reference:
			parts = append(parts, b.name()+" is the reference")
		case b.Verdict == "":
			parts = append(parts, b.name()+" must not be run, no knife fits it")
		default:
			parts = append(parts, r.told(b))
		}
	}
	return "Against the datum: " + strings.Join(parts, "; ") + "."
}

// told is a blade with its rings, as its row has it: one that is in, and neither ready nor due, is to be checked.
func (r Rack) told(b RackBlade) string {
	rings, stands := "without rings", "is "+string(b.Verdict)
	if b.Rings != "" {
		rings = "with rings " + b.Rings
	}
	switch {
	case b.Verdict == model.Cannot:
		stands = "is out of reach of the kit"
	case b.State == model.StateReady:
		stands += " and ready"
	case b.State == model.StateDue:
		stands += " and due to be proved"
	case b.Verdict == model.In && (b.State == model.StateNotClosed || b.State == model.StateNotReady):
		stands += ", " + strings.ReplaceAll(string(b.State), "-", " ")
	case b.Verdict == model.In:
		stands = "is to be checked"
	}
	cuts := r.beside(b.After)
	if b.Expanded > 0 {
		cuts += ", give or take " + r.size(b.Expanded)
	}
	if b.Rings != "" {
		cuts += " (without rings " + strings.TrimPrefix(r.beside(b.Before), "parts come out ") + ")"
	}
	return fmt.Sprintf("%s, %s, %s: %s", b.name(), rings, stands, cuts)
}

func (r Rack) beside(l model.Length) string {
	if !r.shown(l) {
		return "at the datum"
	}
	return "parts come out " + r.size(l) + strings.TrimPrefix(r.aside(l), unitless(r.size(l)))
}

func (r Rack) notIn() int {
	n := 0
	for _, b := range r.Blades {
		n += boolInt(b.Verdict != model.In)
	}
	return n
}
