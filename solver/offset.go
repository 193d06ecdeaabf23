package solver

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// EnoughReadings is how many readings a half needs before its verdict counts.
const EnoughReadings = 3

// caliperError is the greatest error of a digital caliper to 100 mm (DIN 862). It
// stands in for the scatter where no half was read twice.
const caliperError = 20_000 * model.Nanometre

// Offset is by how much a blade cuts a wider part than the reference blade, fence
// unmoved: positive means a cut face farther from the fence. U is its expanded
// uncertainty at Coverage.
type Offset struct {
	Basis       model.Basis
	Value       model.Length
	U           model.Length
	Uncertainty Uncertainty // of Value, in nanometres
	Short       int         // readings still missing to EnoughReadings on each half
	Reasons     []model.Reason

	parts            []Contribution
	blade, reference half
	shared           bool // one half's scatter stands for both
	zeroed           bool // the reference half is one reading, the zeroing
	resolution       model.Length
}

// half is one mean of a comparison: how many readings are in it, and how single
// readings of it scatter, in nanometres.
type half struct {
	n       int
	scatter float64
	freedom float64
}

// mean is the contribution of the mean after so many further readings.
func (h half) mean(further int) Contribution {
	c := Contribution{h.scatter / math.Sqrt(float64(h.n+further)), h.freedom + float64(further)}
	if c.Standard == 0 {
		return Contribution{0, math.Inf(1)}
	}
	return c
}

// MeasuredOffset compares the widths of a blade's half of the comparison piece
// with those of the reference's half: the difference of the means, with the
// scatter of each mean and the caliper's resolution once for each mean. A constant
// error of the caliper cancels in the difference. No readings, readings beyond
// model.MaxLength and a negative resolution are errors.
func MeasuredOffset(blade, reference []model.Length, resolution model.Length) (Offset, error) {
	b, bladeMean, err := readHalf(blade, resolution)
	if err != nil {
		return Offset{}, fmt.Errorf("the blade's half: %w", err)
	}
	r, referenceMean, err := readHalf(reference, resolution)
	if err != nil {
		return Offset{}, fmt.Errorf("the reference half: %w", err)
	}
	o := Offset{Value: rounded(bladeMean - referenceMean), blade: b, reference: r, resolution: resolution}
	o.Short = max(0, EnoughReadings-min(b.n, r.n))
	return o.measured()
}

// MeasuredByDifference takes readings of the blade's half with the caliper zeroed
// on the reference half: widths minus the reference, signed. The zeroing is one
// reading of the reference: it scatters as the reference's own widths do (or, where
// there are fewer than two, as the differences) and has its own resolution. Errors
// are those of MeasuredOffset, but reference may be empty.
func MeasuredByDifference(differences, reference []model.Length, resolution model.Length) (Offset, error) {
	b, mean, err := readHalf(differences, resolution)
	if err != nil {
		return Offset{}, fmt.Errorf("the blade's half: %w", err)
	}
	zero := half{n: 1, freedom: math.NaN()}
	if len(reference) > 1 {
		r, _, err := readHalf(reference, resolution)
		if err != nil {
			return Offset{}, fmt.Errorf("the reference half: %w", err)
		}
		zero.scatter, zero.freedom = r.scatter, r.freedom
	}
	o := Offset{Value: rounded(mean), blade: b, reference: zero, zeroed: true, resolution: resolution}
	o.Short = max(0, EnoughReadings-b.n)
	return o.measured()
}

// measured fills in the scatter that single readings cannot show, and the
// uncertainty.
func (o Offset) measured() (Offset, error) {
	o.Basis = model.Measured
	blindBlade, blindReference := math.IsNaN(o.blade.freedom), math.IsNaN(o.reference.freedom)
	o.shared = blindBlade != blindReference
	switch {
	case blindBlade && blindReference:
		c := Rectangular(float64(caliperError))
		o.blade.scatter, o.blade.freedom = c.Standard, c.Freedom
		o.reference.scatter, o.reference.freedom = c.Standard, c.Freedom
		o.reason("single-reading", model.Warns, "nothing was read twice, so the scatter is not known: the greatest error of a caliper, 0.02 mm, stands in for it; take three readings")
	case blindBlade:
		o.blade.scatter, o.blade.freedom = o.reference.scatter, o.reference.freedom
		o.reason("single-reading", model.Warns, "the blade's half was read only once, so the scatter of the reference half stands in for it; take three readings")
	case blindReference:
		o.reference.scatter, o.reference.freedom = o.blade.scatter, o.blade.freedom
		if !o.zeroed {
			o.reason("single-reading", model.Warns, "the reference half was read only once, so the scatter of the blade's half stands in for it; take three readings")
		}
	}
	if o.Short > 0 {
		o.reason("few-readings", model.Warns, "%d more %s wanted: a verdict needs three readings of each half", o.Short, plural(o.Short, "reading is", "readings are"))
	}
	u, err := Combine(Coverage, o.contributions(0, 0)...)
	if err != nil {
		return Offset{}, err
	}
	o.Uncertainty, o.U, o.parts = u, rounded(u.Expanded), o.contributions(0, 0)
	switch {
	case u.Standard == 0:
		o.reason("no-resolution", model.Warns, "all readings agree and the caliper's resolution is not given: the uncertainty shows as zero, which it is not; give the resolution")
	case o.blade.scatter == 0 && o.reference.scatter == 0:
		o.reason("readings-agree", model.Explains, "all readings of a half agree: what is uncertain about them comes from the caliper's resolution")
	}
	o.reason("caliper-cancels", model.Explains, "a constant error of the caliper cancels, since nearly equal widths are compared")
	return o, nil
}

// contributions lists what the offset's uncertainty is made of after so many
// further readings of each half.
func (o Offset) contributions(blade, reference int) []Contribution {
	q := Resolution(float64(o.resolution))
	b, r := o.blade.mean(blade), o.reference.mean(reference)
	if o.shared {
		b, r = Contribution{math.Hypot(b.Standard, r.Standard), max(b.Freedom, r.Freedom)}, Contribution{0, math.Inf(1)}
	}
	return []Contribution{b, r, q, q}
}

// PredictedOffset is the offset to expect before any cut, no rings behind either
// blade, from micrometer readings of plate and kerf and, where they were read, the
// runouts at the rim, which bring the cut face half of the reading toward the
// fence. resolution is the micrometer's. Missing readings, readings beyond
// model.MaxLength and a negative resolution are errors.
func PredictedOffset(flange model.Flange, reference, blade model.Blade, resolution model.Length) (Offset, error) {
	o := Offset{Basis: model.Predicted, resolution: resolution}
	plate := map[model.Flange]float64{model.Far: 0.5, model.Near: -0.5}[flange]
	if plate == 0 {
		return Offset{}, fmt.Errorf("the flange is %q: it is far or near", flange)
	}
	var value float64
	for _, side := range []struct {
		model.Blade
		sign float64
	}{{reference, 1}, {blade, -1}} {
		for _, read := range []struct {
			what     string
			readings []model.Measure
			factor   float64
		}{{"plate", side.Plate, plate}, {"kerf", side.Kerf, 0.5}} {
			h, mean, err := readHalf(model.Lengths(read.readings), resolution)
			if err != nil {
				return Offset{}, fmt.Errorf("%s of the %s: %w", read.what, side.Name(), err)
			}
			value += side.sign * read.factor * mean
			if math.IsNaN(h.freedom) {
				h.freedom = math.Inf(1)
				o.reason("single-reading", model.Warns, "the %s of the %s was read only once, so its scatter is not known: read it at three places", read.what, side.Name())
			}
			o.parts = append(o.parts, h.mean(0).times(0.5), Resolution(float64(resolution)).times(0.5))
		}
		if side.Runout.Unit != model.NoUnit {
			value += side.sign * 0.5 * float64(side.Runout.Length)
			o.parts = append(o.parts, Resolution(float64(resolution)).times(0.5))
		}
	}
	if (reference.Runout.Unit == model.NoUnit) != (blade.Runout.Unit == model.NoUnit) {
		o.reason("runout-one-sided", model.Warns, "the runout of only one of the %s and the %s was read: the other is taken to run true", reference.Name(), blade.Name())
	}
	u, err := Combine(Coverage, o.parts...)
	if err != nil {
		return Offset{}, err
	}
	o.Value, o.U, o.Uncertainty = rounded(value), rounded(u.Expanded), u
	if u.Standard == 0 {
		o.reason("no-resolution", model.Warns, "all readings agree and the micrometer's resolution is not given: the uncertainty shows as zero, which it is not; give the resolution")
	}
	return o, nil
}

// WithRings is the expanded uncertainty of the residual that a prediction leaves:
// that of the offset, joined by what is not known of the rings. A ring known only
// by its nominal thickness lies anywhere within its half width; a measured ring
// within the micrometer's resolution. Of more rings of a sort behind both blades than the
// kit holds some are the same, and cancel. Rings never make an offset surer than it is.
func (o Offset) WithRings(p model.Profile, stack, standing []string) (model.Length, error) {
	var v float64
	count := func(ids []string, id string) (n int) {
		for _, i := range ids {
			if i == id {
				n++
			}
		}
		return n
	}
	for _, r := range p.Rings {
		sort := kind{count: r.Count, judged: count(standing, r.ID)}
		v += sort.differing(count(stack, r.ID), ringVariance(r, p.Instruments.Micrometer.Length))
	}
	if u := o.with(v); u < model.MaxLength {
		return u, nil
	}
	return 0, errors.New("the half width of a ring is larger than anything on a saw: check the digits and the unit")
}

func ring(r model.Ring, micrometer model.Length) Contribution {
	switch {
	case r.Measured.Unit != model.NoUnit:
		return Resolution(float64(micrometer))
	case r.HalfWidth.Unit != model.NoUnit:
		return Rectangular(float64(r.HalfWidth.Length))
	}
	return Rectangular(float64(model.DefaultRingHalfWidth))
}

// Mean is the mean of readings to the nearest nanometre. No readings and readings
// beyond model.MaxLength are errors.
func Mean(readings []model.Length) (model.Length, error) {
	_, mean, err := readHalf(readings, 0)
	return rounded(mean), err
}

// readHalf is the mean of readings and how they scatter; the freedom of one reading
// is not a number.
func readHalf(readings []model.Length, resolution model.Length) (half, float64, error) {
	if len(readings) == 0 {
		return half{}, 0, errors.New("there are no readings: take three")
	}
	if resolution < 0 || resolution > model.MaxLength {
		return half{}, 0, errors.New("the resolution is not a size: give the smallest step of the instrument")
	}
	// Counted from the first reading, the sums stay small and exact.
	from := readings[0]
	x := make([]float64, len(readings))
	for i, l := range readings {
		if beyond(l) {
			return half{}, 0, fmt.Errorf("reading %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		x[i] = float64(l - from)
	}
	if len(x) == 1 {
		return half{n: 1, freedom: math.NaN()}, float64(from), nil
	}
	mean, scatter := stat.MeanStdDev(x, nil)
	return half{n: len(x), scatter: scatter, freedom: float64(len(x) - 1)}, float64(from) + mean, nil
}

// beyond is a length that nothing on a saw has.
func beyond(l model.Length) bool { return l > model.MaxLength || l < -model.MaxLength }

func rounded(nm float64) model.Length { return model.Length(math.Round(nm)) }

func (o *Offset) reason(code string, w model.Weight, format string, a ...any) {
	o.Reasons = append(o.Reasons, model.Reason{Code: code, Weight: w, Text: fmt.Sprintf(format, a...)})
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
