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

// Wear is what sharpening does to a blade.
type Wear struct {
	Lost    []model.Length // kerf lost at each sharpening
	Mean    model.Length
	Stack   model.Length // what the next sharpening adds to the wanted stack
	Reasons []model.Reason
}

// WearOf looks at a blade's kerf, first on the bench and then after each sharpening,
// as means. The plate stays, so the cut face draws back by half of what the kerf loses:
// with a far flange the stack has to grow by that, with a near one to shrink. Fewer
// than two kerfs are an error.
func WearOf(flange model.Flange, kerfs []model.Length, w metrology.Words) (Wear, error) {
	if len(kerfs) < 2 {
		return Wear{}, errors.New("wear shows from the first sharpening on: measure plate and kerf when the blade comes back")
	}
	var out Wear
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
	return out, nil
}
