package gauging

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// flangeRunout is the most that a flange should wobble (woodworking magazine).
const flangeRunout = 3 * model.Thou

// fewestDial is the least number of dial readings that tell a wobble from a warp.
const fewestDial = 4

// Harmonic is what equally spaced dial readings say: y = Mean + A*cos + B*sin + what
// is left. Angles count from the first reading in the direction in which the places
// were counted.
type Harmonic struct {
	Mean, A, B float64      // nanometres
	Total      model.Length // total indicator reading of the wobble alone: twice its amplitude
	HighSpot   float64      // degrees, 0 to 360
	Read       model.Length // highest less lowest reading, as the trade reads it
	Left       model.Length // highest less lowest of what is no wobble: warp, dirt
}

// vector is the wobble as a complex number: its size the amplitude, its angle the
// high spot.
func (h Harmonic) vector() complex128 { return complex(h.A, h.B) }

// Amplitude is half the total reading of the wobble, in nanometres.
func (h Harmonic) Amplitude() float64 { return cmplx.Abs(h.vector()) }

// FirstHarmonic fits one wave to readings equally spaced round the whole turn. Fewer
// than four readings, and readings beyond model.MaxLength, are errors.
func FirstHarmonic(readings []model.Length) (Harmonic, error) {
	n := len(readings)
	if n < fewestDial {
		return Harmonic{}, fmt.Errorf("%d dial readings do not show a wobble: take four or more, equally spaced", n)
	}
	y := make([]float64, n)
	for i, l := range readings {
		if metrology.Beyond(l) {
			return Harmonic{}, fmt.Errorf("dial reading %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		y[i] = float64(l)
	}
	h := Harmonic{Mean: stat.Mean(y, nil)}
	place := func(i int) (sin, cos float64) { return math.Sincos(2 * math.Pi * float64(i) / float64(n)) }
	for i := range y {
		sin, cos := place(i)
		h.A += y[i] * cos * 2 / float64(n)
		h.B += y[i] * sin * 2 / float64(n)
	}
	left := make([]float64, n)
	for i := range y {
		sin, cos := place(i)
		left[i] = y[i] - h.Mean - h.A*cos - h.B*sin
	}
	h.Total, h.HighSpot = metrology.Rounded(2*h.Amplitude()), degrees(h.vector())
	h.Read, h.Left = metrology.Rounded(floats.Max(y)-floats.Min(y)), metrology.Rounded(floats.Max(left)-floats.Min(left))
	return h, nil
}

// Wobbles are the wobble of the flange as it shows at the rim, and that of the blade
// itself, apart: size the amplitude in nanometres, angle from the arbor's mark.
type Wobbles struct{ Flange, Blade complex128 }

// Separate tells the wobble of the flange from that of the blade by two sets of dial
// readings at the rim: one as mounted, one with the blade turned on the arbor by an
// angle in degrees, in the direction in which the places were counted. Sets of
// different length, and angles under 30 degrees, are errors: the smaller the angle,
// the more every error of the dial is magnified.
func Separate(mounted, turned []model.Length, by float64) (Wobbles, error) {
	if len(mounted) != len(turned) {
		return Wobbles{}, fmt.Errorf("%d readings before the blade was turned and %d after: read at the same number of places", len(mounted), len(turned))
	}
	turn := cmplx.Rect(1, by*math.Pi/180)
	if !(cmplx.Abs(1-turn) >= 2*math.Sin(15*math.Pi/180)-1e-9) { // also where the angle is no number
		return Wobbles{}, errors.New("the blade was turned too little to tell flange and blade apart: turn it by 30 to 330 degrees, best by 180")
	}
	first, err := FirstHarmonic(mounted)
	if err != nil {
		return Wobbles{}, err
	}
	second, err := FirstHarmonic(turned)
	if err != nil {
		return Wobbles{}, err
	}
	blade := (first.vector() - second.vector()) / (1 - turn)
	return Wobbles{first.vector() - blade, blade}, nil
}

// Best is how far to turn the blade from where it was mounted first, in degrees 0 to
// 360, so that its wobble stands against the flange's, and the total reading at the
// rim that then remains.
func (w Wobbles) Best() (turn float64, total model.Length) {
	return degrees(-w.Flange / w.Blade), metrology.Rounded(2 * math.Abs(cmplx.Abs(w.Flange)-cmplx.Abs(w.Blade)))
}

// Now is the total reading at the rim as the blade was mounted first.
func (w Wobbles) Now() model.Length { return metrology.Rounded(2 * cmplx.Abs(w.Flange+w.Blade)) }

// degrees is the angle of c, 0 to 360; of nothing, 0.
func degrees(c complex128) float64 {
	d := cmplx.Phase(c) * 180 / math.Pi
	switch {
	case math.IsNaN(d):
		return 0
	case d < 0:
		return d + 360
	}
	return d
}

// AtRim is a reading taken on the flange, as it shows at the blade's rim: it grows by
// the ratio of the diameters. A flange without a diameter is an error.
func AtRim(reading, flangeDiameter, bladeDiameter model.Length) (model.Length, error) {
	if flangeDiameter <= 0 || bladeDiameter <= 0 {
		return 0, errors.New("the diameter of flange or blade is not above zero: measure it")
	}
	return metrology.Rounded(float64(reading) * float64(bladeDiameter) / float64(flangeDiameter)), nil
}

// FlangeWords says what dial readings round the flange mean. A blade of a diameter of
// zero is not known.
func FlangeWords(h Harmonic, flangeDiameter, bladeDiameter model.Length, w metrology.Words) []model.Reason {
	weight, advice := model.Explains, "good enough"
	if h.Read > flangeRunout {
		weight, advice = model.Warns, "more than "+w.Set(flangeRunout)+": clean it and look for burrs, then read again"
	}
	out := model.Because("flange-runout", weight, "the flange reads %s altogether: %s", w.Set(h.Read), advice)
	if rim, err := AtRim(h.Total, flangeDiameter, bladeDiameter); err == nil {
		out = append(out, model.Because("flange-at-rim", model.Explains, "at the rim of a %s blade its wobble grows to %s", bladeDiameter.Tape(w.Unit), w.Set(rim))...)
	}
	return append(out, leftWords(h, w)...)
}

// RimWords says what dial readings at the rim mean, and, where the blade was turned
// and read again, how it is best clocked. Wobbles of zero: it was not turned.
func RimWords(h Harmonic, apart Wobbles, w metrology.Words) []model.Reason {
	out := model.Because("rim-runout", model.Explains, "the rim reads %s altogether: the cut widens by as much", w.Set(h.Read))
	if apart != (Wobbles{}) {
		turn, total := apart.Best()
		out = append(out, model.Because("clocking", model.Explains, "the flange wobbles %s and the blade %s: turn the blade on the arbor by %.0f deg from its first place, the way the places were counted, and the rim should read %s instead of %s; then mark it anew",
			w.Set(metrology.Rounded(2*cmplx.Abs(apart.Flange))), w.Set(metrology.Rounded(2*cmplx.Abs(apart.Blade))), turn, w.Set(total), w.Set(apart.Now()))...)
	}
	return append(out, leftWords(h, w)...)
}

// worthCleaning is less than a dial shows of a face that matters (common practice).
const worthCleaning = model.Millimetre / 100

// leftWords warns where more than half of what the dial shows is no wobble, and more than
// its last digit may make up.
func leftWords(h Harmonic, w metrology.Words) []model.Reason {
	if 2*h.Left <= h.Read || h.Left <= 2*w.Resolution || h.Read < worthCleaning {
		return nil
	}
	return model.Because("no-wobble", model.Warns, "%s of the %s is no wobble but warp or dirt: clean the face and read again", w.Set(h.Left), w.Set(h.Read))
}
