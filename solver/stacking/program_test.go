package stacking

import (
	"fmt"
	"maps"
	"math/bits"
	"math/rand/v2"
	"slices"
	"sort"
	"strings"

	"example.com/sawdatum/model"
)

const micrometre = 1000 * model.Nanometre

// instance is a seeded rack as GLPK and CBC are given it: rings known to 0.01 mm,
// needs to 0.001 mm.
type instance struct {
	kit     []Piece
	needs   []Need
	highest model.Length
}

func instanceOf(blades, kit int, tolerance model.Length, seed uint64) instance {
	r := rand.New(rand.NewPCG(seed, uint64(tolerance)))
	in := instance{highest: 7 * model.Millimetre}
	for i := range kit {
		in.kit = append(in.kit, Piece{ID: fmt.Sprintf("r%02d", i), Height: model.Length(5+r.Int64N(96)) * 10 * micrometre})
	}
	for i := range blades - 1 {
		in.needs = append(in.needs, need(fmt.Sprint(i), model.Length(r.Int64N(800))*micrometre, tolerance-2*micrometre, in.highest+model.Length(r.Int64N(800))*micrometre))
	}
	return in
}

func (in instance) ours() (RackFit, error) {
	kit, err := NewKit(in.kit)
	if err != nil {
		return RackFit{}, err
	}
	return kit.Rack(in.needs, in.highest, model.Far)
}

// heights lists what every set of rings comes to, with the fewest rings.
func (in instance) heights() ([]model.Length, []int) {
	fewest := map[model.Length]int{}
	for mask := range 1 << len(in.kit) {
		var sum model.Length
		for i, p := range in.kit {
			if mask>>i&1 == 1 {
				sum += p.Height
			}
		}
		n := bits.OnesCount(uint(mask))
		if old, ok := fewest[sum]; !ok || n < old {
			fewest[sum] = n
		}
	}
	heights := slices.Sorted(maps.Keys(fewest))
	rings := make([]int, len(heights))
	for i, h := range heights {
		rings[i] = fewest[h]
	}
	return heights, rings
}

// stage says what a program minimises and what was settled before it. A negative
// count, or a length of anything, settles nothing.
type stage struct {
	goal   string // cannot, rings or standing
	cannot int    // at most so many blades
	excess model.Length
	rings  int // at most so many
	worst  model.Length
}

const anything = model.MaxLength

// program writes a stage as a mixed-integer program in LP format: the stacks that
// the kit makes are listed one by one, and the program chooses among them. Lengths
// are in micrometres.
//
//	w_k    the standing stack is the k-th height or a higher one
//	z_i_k  the stack of blade i is the k-th height or a higher one
//	c_i    blade i cannot
//
// Said of "or a higher one", a zone is two chains of short rows: if the standing
// stack is at least so high, the blade's is at least so high; and if it is no
// higher than that, neither is the blade's.
func (in instance) program(s stage) string {
	p := program{expr: map[string][]string{}}
	p.heights, p.rings = in.heights()
	w := p.choice("w", in.highest)
	for i, n := range in.needs {
		z, cannot := p.choice(fmt.Sprintf("z_%d", i), n.Highest), fmt.Sprintf("c_%d", i)
		p.binary(cannot)
		p.expr["cannot"] = append(p.expr["cannot"], "+ "+cannot)
		p.zone(w, z, n.Height, min(n.Zone.Toward, s.worst), " - "+cannot)
		if s.excess < anything {
			p.zone(w, z, n.Height, min(n.Zone.Toward+s.excess, s.worst), "")
			p.nearest(w, z, n.Height, cannot)
		}
	}
	if s.cannot >= 0 {
		p.row("%s <= %d", strings.Join(p.expr["cannot"], "\n "), s.cannot)
	}
	if s.rings >= 0 {
		p.row("%s <= %d", strings.Join(p.expr["rings"], "\n "), s.rings)
	}
	return fmt.Sprintf("Minimize\n goal: %s\nSubject To\n%sBinary\n%sEnd\n", strings.Join(p.expr[s.goal], "\n "), p.rows.String(), p.binaries.String())
}

type program struct {
	heights        []model.Length
	rings          []int
	rows, binaries strings.Builder
	expr           map[string][]string
}

func (p *program) row(format string, a ...any) { fmt.Fprintf(&p.rows, " "+format+"\n", a...) }

func (p *program) binary(name string) { p.binaries.WriteString(" " + name + "\n") }

// chain names the variables of one stack, up to the last height that the thread
// allows.
type chain struct {
	name string
	last int
}

func (c chain) at(k int) string {
	if k > c.last {
		return ""
	}
	return fmt.Sprintf("%s_%d", c.name, k)
}

// choice declares the chain of one stack and adds up its rings and its height.
func (p *program) choice(name string, highest model.Length) chain {
	c := chain{name: name, last: sort.Search(len(p.heights), func(k int) bool { return p.heights[k] > highest }) - 1}
	for k := range c.last + 1 {
		p.binary(c.at(k))
		if k == 0 {
			p.row("%s = 1", c.at(0))
			continue
		}
		p.row("%s - %s <= 0", c.at(k), c.at(k-1))
		if d := p.rings[k] - p.rings[k-1]; d != 0 {
			p.expr["rings"] = append(p.expr["rings"], fmt.Sprintf("%+d %s", d, c.at(k)))
		}
		if name == "w" {
			p.expr["standing"] = append(p.expr["standing"], fmt.Sprintf("%+d %s", (p.heights[k]-p.heights[k-1])/micrometre, c.at(k)))
		}
	}
	return c
}

// zone keeps a blade's stack within a distance of need + standing stack.
func (p *program) zone(w, z chain, need, within model.Length, unless string) {
	for k := 0; k <= w.last; k++ {
		want := p.heights[k] + need
		low := sort.Search(len(p.heights), func(j int) bool { return p.heights[j] >= want-within })
		high := sort.Search(len(p.heights), func(j int) bool { return p.heights[j] > want+within })
		p.implies(w.at(k), z.at(low), unless)
		p.implies(z.at(high), w.at(k+1), unless)
	}
}

// nearest keeps the stack of a blade that cannot at one of the nearest heights.
func (p *program) nearest(w, z chain, need model.Length, cannot string) {
	for k := 0; k <= w.last; k++ {
		want := p.heights[k] + need
		high := min(sort.Search(len(p.heights), func(j int) bool { return p.heights[j] > want }), z.last)
		low := max(high-1, 0)
		switch down, up := want-p.heights[low], p.heights[high]-want; {
		case up < 0 || down < up && high > low:
			high = low
			if up < 0 {
				low, high = z.last, z.last
			}
		case up < down:
			low = high
		}
		p.row("%s - %s + %s <= 1", w.at(k), z.at(low), cannot)
		if z.at(high+1) != "" {
			if next := w.at(k + 1); next != "" {
				p.row("%s - %s + %s <= 1", z.at(high+1), next, cannot)
			} else {
				p.row("%s + %s <= 1", z.at(high+1), cannot)
			}
		}
	}
}

// implies writes that a needs b; "" stands for a height that is not there.
func (p *program) implies(a, b, unless string) {
	switch {
	case a == "" || a == b:
	case b == "":
		p.row("%s%s <= 0", a, unless)
	default:
		p.row("%s - %s%s <= 0", a, b, unless)
	}
}
