package drift

import (
	"errors"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// What a sharpening takes off the kerf of a 10-inch blade (from memory).
const (
	leastLoss = 10_000 * model.Nanometre
	mostLoss  = 50_000 * model.Nanometre
)

// fewLeft is for how many sharpenings a shop looks ahead.
const fewLeft = 4

// until tells of so many sharpenings.
var until = [fewLeft]string{"today, and not after the next sharpening", "after the next sharpening, and no more", "after two more sharpenings", "after three more sharpenings"}

// Wear is what sharpening does to a blade.
type Wear struct {
	Lost    []model.Length // kerf lost at each sharpening
	Mean    model.Length
	Stack   model.Length // what the next sharpening adds to the wanted stack
	Left    int          // sharpenings after which its knife still goes through the kerf; -1: at this rate no end is seen
	Reasons []model.Reason
}

// WearOf looks at a blade's kerf, first on the bench and then after each sharpening,
// as means. The plate stays, so the cut face draws back by half of what the kerf loses:
// with a far flange the stack has to grow by that, with a near one to shrink; and the kerf
// closes on the knife, of which the thickness is given (0: it has none). Fewer than two
// kerfs are an error.
func WearOf(flange model.Flange, kerfs []model.Length, knife model.Length, w metrology.Words) (Wear, error) {
	if len(kerfs) < 2 {
		return Wear{}, errors.New("wear shows from the first sharpening on: measure plate and kerf when the blade comes back")
	}
	out := Wear{Left: -1}
	for i := range kerfs[1:] {
		lost := kerfs[i] - kerfs[i+1]
		out.Lost = append(out.Lost, lost)
		switch {
		case lost < 0:
			out.Reasons = append(out.Reasons, model.Because("kerf-grew", model.Warns, "the kerf is %s wider after sharpening %d: mistyped, or new teeth?", w.Result(-lost), i+1)...)
		case lost > mostLoss:
			out.Reasons = append(out.Reasons, model.Because("kerf-lost-much", model.Warns, "sharpening %d took %s off the kerf, where %s to %s is usual: measure again", i+1, w.Result(lost), w.Set(leastLoss), w.Set(mostLoss))...)
		}
	}
	var err error
	if out.Mean, err = metrology.Mean(out.Lost); err != nil {
		return Wear{}, err
	}
	out.Stack = out.Mean / 2
	change := "higher"
	if flange == model.Near {
		out.Stack = -out.Stack
	}
	if out.Stack < 0 {
		change = "lower"
	}
	out.Reasons = append(out.Reasons, model.Because("kerf-lost", model.Explains, "a sharpening takes %s off the kerf on average (%d so far): after each one the blade needs a stack %s %s", w.Result(out.Mean), len(out.Lost), w.Result(out.Stack.Abs()), change)...)
	play := kerfs[len(kerfs)-1] - knife
	if knife == 0 || play <= 0 || out.Mean <= 0 {
		return out, nil
	}
	out.Left = int((play - 1) / out.Mean)
	if out.Left < fewLeft {
		out.Reasons = append(out.Reasons, model.Because("knife-window", model.Warns, "the kerf is %s wider than its knife, and at that rate the knife still goes through it %s: have a thinner one ready", w.Result(play), until[min(out.Left, fewLeft-1)])...)
	}
	return out, nil
}
