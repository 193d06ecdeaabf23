package picture

import (
	"math"
	"strings"

	"example.com/sawdatum/model"
)

// Figures says how lengths are written: in which unit, with the digits of which
// instrument. Zero values give two decimals of a millimetre.
type Figures struct {
	Unit       model.Unit
	Resolution model.Length
}

func (f Figures) show(l model.Length) string   { return l.Show(f.Unit, f.Resolution) }
func (f Figures) signed(l model.Length) string { return l.Signed(f.Unit, f.Resolution) }

// size is a length without its sign.
func (f Figures) size(l model.Length) string {
	if l == math.MinInt64 {
		l++
	}
	return f.show(l.Abs())
}

// side is by how much a blade cuts narrow, with its cut face toward the fence, or wide.
func (f Figures) side(residual model.Length) string {
	switch {
	case !f.shown(residual):
		return f.show(0)
	case residual > 0:
		return f.size(residual) + " narrow"
	}
	return f.size(residual) + " wide"
}

// called is a length that is read off a rule: 5 mm, 13/64 in.
func (f Figures) called(l model.Length) string { return l.Size(f.Unit, f.Resolution) }

// setting is a length as a fence is set to it, without the unit: 140, 5 1/2.
func (f Figures) setting(l model.Length) string {
	text := f.called(l)
	return text[:strings.LastIndex(text, " ")]
}

// bare is a length without the unit behind it.
func (f Figures) bare(l model.Length) string { return unitless(f.show(l)) }

func unitless(figure string) string {
	number, _, _ := strings.Cut(figure, " ")
	return number
}

// shown reports whether a length is seen as different from zero in these digits.
func (f Figures) shown(l model.Length) bool { return strings.ContainsAny(f.bare(l), "123456789") }

// length turns a float of nanometres back; what no saw has becomes zero.
func length(nm float64) model.Length {
	if math.IsNaN(nm) || math.Abs(nm) > float64(model.MaxLength) {
		return 0
	}
	return model.Length(math.Round(nm))
}

// nm is a length as a float of nanometres, for drawing only.
func nm(l model.Length) float64 { return float64(l) }

func join(ls []model.Length, f Figures, between string) string {
	words := make([]string, len(ls))
	for i, l := range ls {
		words[i] = f.bare(l)
	}
	return strings.Join(words, between)
}

func sum(ls []model.Length) float64 {
	var s float64
	for _, l := range ls {
		s += nm(l)
	}
	return s
}
