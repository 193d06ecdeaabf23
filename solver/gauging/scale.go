package gauging

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// ScaleFit is what the fence scale does: read - set = A + B*set, A in nanometres.
type ScaleFit struct {
	metrology.Line
	Cursor  model.Length // to be moved by, + = toward the higher numbers
	Ends    [2]End       // of the range of settings, smallest first, with the cursor moved
	Reasons []model.Reason
}

// End is what the moved cursor leaves at a setting: Error positive means that parts
// come out wider than set.
type End struct{ Setting, Error model.Length }

// FitScale fits pairs of setting and reading, and cures the scale at the working
// width. Two pairs give a line through both; three or more a least-squares line whose
// slope is called real only where its t-test says so at 95 %, the steps of the caliper
// counted in. Fewer than two settings, and lengths beyond model.MaxLength, are errors.
func FitScale(pairs []model.Pair, width model.Length, w metrology.Words) (ScaleFit, error) {
	if len(pairs) < 2 {
		return ScaleFit{}, errors.New("the scale wants two or more settings with what was read: set another width, rip and read")
	}
	x, y := make([]float64, len(pairs)), make([]float64, len(pairs))
	for i, p := range pairs {
		if metrology.Beyond(p.Set.Length) || metrology.Beyond(p.Read.Length) || metrology.Beyond(width) {
			return ScaleFit{}, fmt.Errorf("pair %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		x[i], y[i] = float64(p.Set.Length), float64(p.Read.Length-p.Set.Length)
	}
	line, err := metrology.FitLine(x, y, metrology.Resolution(float64(w.Resolution)))
	if err != nil {
		return ScaleFit{}, errors.New("all settings are the same: set another width, rip and read")
	}
	f := ScaleFit{Line: line, Cursor: metrology.Rounded(line.A + line.B*float64(width))}
	for i, at := range []float64{floats.Min(x), floats.Max(x)} {
		f.Ends[i] = End{metrology.Rounded(at), metrology.Rounded(line.B * (at - float64(width)))}
	}
	f.Reasons = f.words(width, w)
	return f, nil
}

func (f ScaleFit) words(width model.Length, w metrology.Words) []model.Reason {
	out := model.Because("cursor", model.Explains, "%s", CursorWords(f.Cursor, w))
	per := (100 * model.Millimetre).Of(model.MM)
	if w.Unit == model.IN {
		per = (4 * model.Inch).Of(model.IN)
	}
	slope := metrology.Rounded(f.B*float64(per.Length)).Signed(w.Unit, w.Resolution/10)
	test := fmt.Sprintf("t is %.1f, over %.1f", f.TestFigure, f.TestCritical)
	if math.IsInf(f.TestFigure, 0) {
		test = "all readings lie on the line"
	}
	switch {
	case f.Freedom == 0:
		out = append(out, model.Because("slope-unproved", model.Explains, "two settings give a line, but do not tell whether its slope of %s over %s is real: read at a third", slope, per)...)
	case f.Significant:
		out = append(out, model.Because("slope-real", model.Warns, "the slope of %s over %s is real (%s): the cursor does not cure it; see that the scale lies flat and unstretched", slope, per, test)...)
	default:
		out = append(out, model.Because("slope-not-real", model.Explains, "a slope cannot be told from the scatter of %s round the line and the steps of the caliper", w.Result(metrology.Rounded(f.Scatter)))...)
	}
	if f.Ends[0].Error != 0 || f.Ends[1].Error != 0 {
		out = append(out, model.Because("scale-ends", model.Explains, "with the cursor right at %s, parts come out %s at %s and %s at %s",
			w.Set(width), wider(f.Ends[0].Error, w), w.Set(f.Ends[0].Setting), wider(f.Ends[1].Error, w), w.Set(f.Ends[1].Setting))...)
	}
	return out
}

func wider(l model.Length, w metrology.Words) string {
	shown := w.Result(l.Abs())
	switch {
	case shown == w.Result(0):
		return "right"
	case l > 0:
		return shown + " too wide"
	}
	return shown + " too narrow"
}

// CursorWords says how to move the cursor: positive is toward the higher numbers.
func CursorWords(by model.Length, w metrology.Words) string {
	switch {
	case w.Set(by.Abs()) == w.Set(0):
		return "leave the cursor where it is"
	case by > 0:
		return "move the cursor " + w.Set(by) + " toward the higher numbers"
	}
	return "move the cursor " + w.Set(-by) + " toward the lower numbers"
}
