package evidence

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
	"example.com/sawdatum/testdata/given"

	"gonum.org/v1/gonum/mat"

	"example.com/sawdatum/model"
)

// asked is thin looked at for another stack: it wants 0.60 of the rings 0.10 and 0.20
// (nominal), 0.30 (measured) and two of 0.05.
func asked(cut ...CutStack) Asked {
	return Asked{
		Blade: "thin", Reference: "general", Tolerance: given.MM(0.1), Limit: stacking.Zone{Toward: given.MM(1), Away: given.MM(0.1)}, Highest: given.MM(6),
		U: given.MM(0.02), Cut: cut, Spread: Scatter{2.5e7, 5}, Step: given.MM(0.01),
	}
}

func learner(t *testing.T, lessons ...Lesson) *Taught {
	t.Helper()
	p, blades := teaching(model.Far)
	taught, err := Teach(p, blades, lessons)
	if err != nil {
		t.Fatal(err)
	}
	return taught
}

// lesson is what thin with a stack cut wider than general, well known.
func lesson(value float64, stack ...string) Lesson {
	return Lesson{Blade: "thin", Datum: "general", Stack: stack, Lock: "l", Value: value * 1e6, Own: metrology.Contribution{Standard: 3_000, Freedom: 5}, DatumOwn: metrology.Contribution{Standard: 3_000, Freedom: 5}}
}

func TestAnother(t *testing.T) {
	exact := []string{"a", "b", "m"} // 0.60, thinnest first
	for _, v := range []struct {
		name    string
		a       Asked
		lessons []Lesson
		stack   []string
		advised bool
		cure    model.WayKind
	}{
		{"nothing cut", asked(), nil, exact, true, ""},
		{"found out far off", asked(CutStack{[]string{"m"}, given.MM(-0.3)}), []Lesson{lesson(0.3, "m")}, exact, true, ""},
		{"in another order it is the same stack", asked(CutStack{[]string{"m", "b", "a"}, given.MM(-0.15)}), []Lesson{lesson(0.15, "m", "b", "a")}, []string{"twin", "twin", "a", "b", "m"}, true, ""},
		{"four stacks were cut", asked(CutStack{[]string{"m"}, given.MM(-0.3)}, CutStack{[]string{"a"}, given.MM(-0.5)}, CutStack{[]string{"b"}, given.MM(-0.4)}, CutStack{nil, given.MM(-0.6)}), nil, exact, false, model.WayMeasure},
		{"not half of the best", asked(CutStack{[]string{"twin", "twin", "b", "m"}, given.MM(-0.001)}), []Lesson{lesson(0.001, "twin", "twin", "b", "m")}, exact, false, model.WayMeasure},
	} {
		got := learner(t, v.lessons...).Another(v.a)
		if !slices.Equal(got.Stack, v.stack) || got.Advised != v.advised || got.Cure != v.cure {
			t.Errorf("%s: %+v", v.name, got)
		}
		for _, c := range v.a.Cut {
			if Canonical(c.Rings) == Canonical(got.Stack) && got.Found {
				t.Errorf("%s: a stack that was cut again: %+v", v.name, got)
			}
		}
	}
}

// The limits, each with the value just beside it.
func TestAnotherAtItsLimits(t *testing.T) {
	taught := learner(t)
	// Unknown: two blades (25 um2) and two nominal rings (400/3 each), and 1/12.
	for _, v := range []struct {
		name    string
		change  func(*Asked)
		advised bool
	}{
		{"U leaves nothing", func(a *Asked) { a.U = given.MM(0.1) + 1 }, false},
		{"U leaves the middle", func(a *Asked) { a.U = given.MM(0.1) }, true},
		{"nominal rings at a small tolerance", func(a *Asked) { a.Tolerance = given.MM(0.05) - 1 }, false},
		{"nominal rings at 0.05", func(a *Asked) { a.Tolerance = given.MM(0.05) }, true},
		{"the thread", func(a *Asked) { a.Highest = given.MM(0.6) - 1 }, false},
	} {
		a := asked()
		v.change(&a)
		got := taught.Another(a)
		if exact := slices.Equal(got.Stack, []string{"a", "b", "m"}); got.Advised && exact != v.advised {
			t.Errorf("%s: %+v", v.name, got)
		}
	}
	a := asked()
	a.Tolerance = given.MM(0.05) - 1
	if got := taught.Another(a); got.Cure != model.WayMeasure || !slices.Equal(got.Rings, []string{"a", "b"}) {
		t.Errorf("%+v", got)
	}
	// What the knife allows toward the fence bars stacks beyond it, before any chance.
	a = asked(CutStack{[]string{"a", "b", "m"}, given.MM(-0.3)})
	a.Limit = stacking.Zone{Toward: 0, Away: given.MM(0.1)}
	if got := taught.Another(a); got.Found && got.Expect.Mean > 0 {
		t.Errorf("%+v", got)
	}
	a.Limit = stacking.Zone{Toward: given.MM(1), Away: 0}
	if got := taught.Another(a); got.Found && got.Expect.Mean < 0 {
		t.Errorf("%+v", got)
	}
}

// What promises more than half of the best residual is not advised, however sure it is to
// lie nearer: 0.55 mm was cut and lies 0.05 off; 0.57 promises 0.03, 0.576 0.024.
func TestAnotherPromisesHalf(t *testing.T) {
	for _, v := range []struct {
		ring    float64
		advised bool
	}{{0.570, false}, {0.576, true}} {
		p, blades := teaching(model.Far)
		p.Rings = nil
		for _, h := range []float64{0.55, v.ring} {
			p.Rings = append(p.Rings, model.Ring{ID: given.MM(h).Of(model.MM).String()[:4] + "x", Thickness: given.MM(h).Of(model.MM), Measured: given.MM(h).Of(model.MM), Count: 1})
		}
		cut := p.Rings[0].ID
		taught, err := Teach(p, blades, []Lesson{lesson(0.05, cut)})
		if err != nil {
			t.Fatal(err)
		}
		got := taught.Another(asked(CutStack{[]string{cut}, given.MM(-0.05)}))
		if got.Advised != v.advised || len(got.Stack) != 1 || got.Stack[0] != p.Rings[1].ID {
			t.Errorf("%v: %+v", v.ring, got)
		}
	}
}

// kit is what the rack of teaching has in rings, in place of its own.
func kit(t *testing.T, rings []model.Ring, lessons ...Lesson) *Taught {
	t.Helper()
	p, blades := teaching(model.Far)
	p.Rings = rings
	taught, err := Teach(p, blades, lessons)
	if err != nil {
		t.Fatal(err)
	}
	return taught
}

// ring is one that is on file, measured or not.
func ring(id string, height float64, count int, measured bool) model.Ring {
	r := model.Ring{ID: id, Thickness: given.MM(height).Of(model.MM), Count: count}
	if measured {
		r.Measured = r.Thickness
	}
	return r
}

// What is looked for, of which kit: thin wants 0.60.
func TestAnotherOfWhichKit(t *testing.T) {
	fine := func(a *Asked) { a.Tolerance = given.MM(0.05) - 1 }
	anywhere := func(a *Asked) { a.Limit = stacking.Zone{Toward: given.MM(9), Away: given.MM(9)} }
	many := func(count int) []model.Ring { return []model.Ring{ring("h", 0.105, count, true)} } // five come as near as 0.075, six as 0.03
	for _, v := range []struct {
		name    string
		rings   []model.Ring
		change  func(*Asked)
		stack   string // empty: there is none
		advised bool
	}{
		{"below 0.05 mm measured rings do", []model.Ring{ring("x", 0.6, 1, true)}, fine, "x", true},
		{"nominal ones do not", []model.Ring{ring("x", 0.6, 1, false)}, fine, "x", false},
		// 0.598 of one ring that nobody measured is likelier to be in than 0.622 of two that were.
		{"what is advised comes before what is likelier", []model.Ring{ring("x", 0.598, 1, false), ring("y", 0.3, 1, true), ring("z", 0.322, 1, true)}, fine, "y z", true},
		{"nothing is near", []model.Ring{ring("x", 3, 1, true)}, anywhere, "", false},
		{"six rings of a kit of twenty", many(20), nil, "h h h h h h", true},
		{"five of a larger one", many(21), nil, "h h h h h", true},
		{"of two sorts, too", []model.Ring{ring("g", 0.04, 1, true), ring("h", 0.105, 20, true)}, nil, "h h h h h", true},
		{"no more than there are", many(5), nil, "h h h h h", true},
		{"seven never", []model.Ring{ring("s", 0.086, 9, true)}, anywhere, "s s s s s s", false},
		{"none that is lost", []model.Ring{ring("x", 0.6, 0, true), ring("y", 0.5, 1, true)}, anywhere, "y", false},
		{"none of which nothing is known", []model.Ring{{ID: "u", Count: 1}, ring("x", 0.6, 1, true), ring("y", 0.5, 1, true)}, func(a *Asked) {
			anywhere(a)
			a.Cut = []CutStack{{[]string{"x"}, given.MM(-0.001)}}
		}, "y", false},
		{"not again what was cut, though its ring is lost since", []model.Ring{ring("x", 0.6, 1, true)}, func(a *Asked) { a.Cut = []CutStack{{[]string{"gone"}, given.MM(-0.3)}} }, "x", false},
		{"the blade is not on file", []model.Ring{ring("x", 0.6, 1, true), ring("y", 2.7, 1, true)}, func(a *Asked) { anywhere(a); a.Blade = "gone" }, "", false},
		{"the best of those that were cut is to be halved", []model.Ring{ring("x", 0.6, 1, true), ring("y", 0.3, 1, true), ring("z", 0.59, 1, true)}, func(a *Asked) {
			a.Cut = []CutStack{{[]string{"y"}, given.MM(-0.3)}, {[]string{"x"}, given.MM(0.001)}}
		}, "z", false},
		{"the best of those that were cut, whichever was first", []model.Ring{ring("x", 0.6, 1, true), ring("y", 0.3, 1, true), ring("z", 0.59, 1, true)}, func(a *Asked) {
			a.Cut = []CutStack{{[]string{"x"}, given.MM(0.001)}, {[]string{"y"}, given.MM(-0.3)}}
		}, "z", false},
	} {
		a := asked()
		if v.change != nil {
			v.change(&a)
		}
		got := kit(t, v.rings).Another(a)
		if strings.Join(got.Stack, " ") != v.stack || got.Found != (v.stack != "") || got.Advised != v.advised {
			t.Errorf("%s: %+v", v.name, got)
		}
		if !got.Found && got.Cure != model.WayRing {
			t.Errorf("%s: it wants another ring: %+v", v.name, got)
		}
	}
}

// Where nothing is in doubt, blades and rings known to the nanometre, the nearer stack is nearer; and
// of two that lie alike neither is.
func TestAnotherWithoutADoubt(t *testing.T) {
	for _, v := range []struct {
		height  float64
		advised bool
	}{{0.6, true}, {0.576, true}, {0.574, false}, {0.55, false}, {0.65, false}} {
		p, blades := teaching(model.Far)
		p.Instruments.Micrometer = model.Measure{}
		p.Rings = []model.Ring{ring("cut", 0.55, 1, true), ring("x", v.height, 1, true)}
		for id, b := range blades {
			b.Parts = nil
			blades[id] = b
		}
		taught, err := Teach(p, blades, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := taught.Another(asked(CutStack{[]string{"cut"}, given.MM(-0.05)}))
		if got.Advised != v.advised || !slices.Equal(got.Stack, []string{"x"}) || got.Expect.Deviation != 0 {
			t.Errorf("%v: %+v", v.height, got)
		}
	}
}

// What would help most, where nothing is advised since four stacks were cut. Each takes something
// off the residual, its doubt or the U of two strips.
func TestCureThatHelpsMost(t *testing.T) {
	exact, off := []model.Ring{ring("x", 0.6, 1, true)}, []model.Ring{ring("x", 0.5, 1, true)}
	for _, v := range []struct {
		name   string
		rings  []model.Ring
		change func(*Asked)
		cure   model.WayKind
		of     string
	}{
		{"nominal rings, the rest well known", []model.Ring{ring("x", 0.2, 3, false)}, func(a *Asked) { a.Spread, a.U = Scatter{1e6, 20}, given.MM(0.012) }, model.WayMeasure, "x"},
		{"nothing measured lies near", off, nil, model.WayRing, ""},
		{"nominal, and that far off", []model.Ring{ring("x", 0.5, 1, false)}, nil, model.WayRing, ""},
		{"hardly anything on file of how rips repeat", exact, func(a *Asked) { a.Spread = Scatter{2.5e7, 1} }, model.WayHistory, ""},
		{"a coarse caliper", exact, func(a *Asked) { a.Spread, a.Step, a.U = Scatter{1e6, 20}, given.MM(0.1), given.MM(0.1) }, model.WayCaliper, ""},
		{"what mounting does", exact, func(a *Asked) { a.Spread, a.U = Scatter{1e6, 20}, given.MM(0.09) }, model.WayLook, ""},
		{"below 0.05 mm the rings first", []model.Ring{ring("x", 0.2, 3, false)}, func(a *Asked) { a.Tolerance, a.U = given.MM(0.05)-1, given.MM(1) }, model.WayMeasure, "x"},
		{"below 0.05 mm they are measured", off, func(a *Asked) { a.Tolerance = given.MM(0.05) - 1 }, model.WayRing, ""},
	} {
		a := asked(CutStack{nil, given.MM(-0.6)}, CutStack{nil, given.MM(-0.6)}, CutStack{nil, given.MM(-0.6)}, CutStack{nil, given.MM(-0.6)})
		if v.change != nil {
			v.change(&a)
		}
		got := kit(t, v.rings).Another(a)
		if got.Advised || got.Cure != v.cure || strings.Join(got.Rings, " ") != v.of {
			t.Errorf("%s: %+v", v.name, got)
		}
	}
}

// Rings that were measured in coarse steps are not measured again for it.
func TestNoCureByMeasuringAgain(t *testing.T) {
	p, blades := teaching(model.Far)
	p.Rings, p.Instruments.Micrometer = []model.Ring{ring("x", 0.3, 2, true)}, given.MM(0.05).Of(model.MM)
	taught, err := Teach(p, blades, nil)
	if err != nil {
		t.Fatal(err)
	}
	a := asked(make([]CutStack, MostGoes)...)
	if got := taught.Another(a); got.Advised || got.Cure == model.WayMeasure || got.Expect.Deviation < 20_000 {
		t.Errorf("%+v", got)
	}
}

// The chance to be nearer is never more than it truly is, tried with many draws of what is
// not known.
func TestNearerIsAFloor(t *testing.T) {
	for _, v := range []struct{ mean, deviation, residual float64 }{{0.01, 0.005, 0.05}, {0.02, 0.02, 0.03}, {-0.01, 0.01, 0.02}} {
		// x and y as two unknowns of their own: the chance in closed form is
		// P(|x| < |y|) = P(y-x > 0, y+x > 0) + P(both < 0), by numbers below.
		taught := &Taught{flange: model.Far, at: map[string]int{"blade x": 0, "blade y": 1, "blade datum": 2}}
		taught.means, taught.priors = []float64{v.mean * 1e6, v.residual * 1e6, 0}, []float64{math.Pow(v.deviation*1e6, 2), math.Pow(0.003e6, 2), 0}
		taught.after, taught.spread = mat.NewVecDense(3, taught.means), mat.NewSymDense(3, nil)
		for i, v := range taught.priors {
			taught.spread.SetSym(i, i, v)
		}
		x, _ := taught.residual("x", nil, "datum", nil)
		got := taught.nearer(x, Asked{Blade: "y", Reference: "datum"}, CutStack{})
		n, held := 400, 0.0
		for i := range n {
			for j := range n {
				a := v.mean + v.deviation*quantile((float64(i)+0.5)/float64(n))
				b := v.residual + 0.003*quantile((float64(j)+0.5)/float64(n))
				if math.Abs(a) < math.Abs(b) {
					held++
				}
			}
		}
		truth := held / float64(n*n)
		if got > truth+2e-3 || got < truth-0.15 {
			t.Errorf("%+v: %.4f, truly %.4f", v, got, truth)
		}
	}
}

// quantile of the normal distribution, by halving its error function.
func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
