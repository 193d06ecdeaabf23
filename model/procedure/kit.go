package procedure

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
)

func acceptRings(t *taking) {
	rings, _ := ParseKit(t.text("kit"), t.field("kit").Unit)
	measured, outer := t.lengths("measured"), t.length("outer")
	if len(measured) > 0 && len(measured) != len(rings) {
		t.fault("measured", "%d measured for %d sorts of ring: type one a sort, or none at all", len(measured), len(rings))
		return
	}
	pieces := 0
	for i := range rings {
		rings[i].Outer = outer
		pieces += rings[i].Count
		if len(measured) > 0 {
			rings[i].Measured = measured[i]
			if off := (measured[i].Length - rings[i].Thickness.Length).Abs(); off > min(rings[i].Thickness.Length/2, mm/10) {
				t.question("measured", "%s measured for a ring of %s", measured[i], rings[i].Thickness)
			}
		}
		for _, old := range t.profile.Rings {
			if old.Thickness.Length == rings[i].Thickness.Length {
				rings[i].ID, rings[i].HalfWidth = old.ID, old.HalfWidth
			}
		}
	}
	if pieces > model.MaxRingKit {
		t.fault("kit", "%d rings are more than a stack is searched among: at most %d", pieces, model.MaxRingKit)
	}
	t.head(func(p *model.Profile) { p.Rings = append(rings, t.gone(rings)...) })
}

// gone are the rings that are not laid out any more and that records name: they stay
// on the list with none left. One behind the reference cannot go.
func (t *taking) gone(kit []model.Ring) (out []model.Ring) {
	for _, old := range t.profile.Rings {
		has := func(ids []string) bool { return slices.Contains(ids, old.ID) }
		if slices.ContainsFunc(kit, func(r model.Ring) bool { return r.ID == old.ID }) {
			continue
		}
		if has(t.profile.Standing) {
			t.fault("kit", "the ring of %s stands behind the reference blade: leave it in", old.Thickness)
		}
		if slices.ContainsFunc(t.profile.Records, func(r model.Record) bool { return has(r.Rings) }) {
			old.Count = 0
			out = append(out, old)
		}
	}
	return out
}

var (
	kitWord = regexp.MustCompile(`^(.+?)(?:\s*([xX])\s*(\d*))?$`)
	kitTail = regexp.MustCompile(`^(mm|in|"|thou)?([xX]\d*)?$`) // of a ring that is typed with spaces in it
)

// kitWords are the rings of a list, each with its unit and its count, also where
// these stand apart: 0.10 mm x 2.
func kitWords(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		n := len(out) - 1
		if n >= 0 && (kitTail.MatchString(word) || strings.HasSuffix(strings.ToLower(out[n]), "x")) {
			out[n] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// ParseKit reads thicknesses with counts: 0.10x2 0.25 0.50, or 0.10mmx2, or 0.10 mm
// x2. A thickness that comes again adds to the count of the first. bare is the unit of
// a bare number; with NoUnit it is refused.
func ParseKit(text string, bare model.Unit) ([]model.Ring, error) {
	if len(text) > 2000 {
		return nil, errors.New("that is too long for a list of rings: type thicknesses separated by spaces")
	}
	var rings []model.Ring
	for i, word := range kitWords(text) {
		m := kitWord.FindStringSubmatch(word)
		thickness, err := model.ParseLength(m[1], bare)
		if err != nil {
			return nil, fmt.Errorf("ring %d: %w", i+1, err)
		}
		count := 1
		if m[2] != "" {
			count, _ = strconv.Atoi(m[3])
		}
		if thickness.Length <= 0 || thickness.Length > 10*model.Millimetre || count < 1 || count > 99 {
			return nil, fmt.Errorf("ring %d: %q is not a ring: type a thickness up to 10 mm, and x2 behind it for two of them", i+1, model.Clip(word))
		}
		if same := slices.IndexFunc(rings, func(r model.Ring) bool { return r.Thickness.Length == thickness.Length }); same >= 0 {
			rings[same].Count += count
			continue
		}
		rings = append(rings, model.Ring{ID: ringID(thickness), Thickness: thickness, Count: count})
	}
	return rings, nil
}

// ringID names a ring after its thickness: r25 is 0.25 mm, t10 is 10 thou.
func ringID(m model.Measure) string {
	switch {
	case m.Unit != model.MM && m.Length%model.Thou == 0:
		return fmt.Sprintf("t%d", m.Length/model.Thou)
	case m.Length%(model.Millimetre/100) == 0:
		return fmt.Sprintf("r%02d", m.Length/(model.Millimetre/100))
	}
	return fmt.Sprintf("r%dn", m.Length)
}

// parseRings reads rings of the kit, flange first: by id or by thickness; none for
// no ring.
func parseRings(p model.Profile, text string) ([]string, error) {
	ids := []string{}
	if strings.EqualFold(strings.TrimSpace(text), "none") {
		return ids, nil
	}
	used := map[string]int{}
	for _, word := range strings.Fields(strings.ReplaceAll(text, "+", " ")) {
		if word == "mm" || word == "in" || word == "thou" {
			continue
		}
		id, err := ringNamed(p, word)
		if err != nil {
			return nil, err
		}
		used[id]++
		if r, _ := p.RingByID(id); used[id] > r.Count {
			return nil, fmt.Errorf("the kit has only %d of %s: type rings that are there", r.Count, r.Thickness)
		}
		ids = append(ids, id)
	}
	if len(ids) == 0 {
		return nil, errors.New("nothing typed: type the rings, flange first, or none")
	}
	return ids, nil
}

func ringNamed(p model.Profile, word string) (string, error) {
	for _, r := range p.Rings {
		if r.ID == word {
			return r.ID, nil
		}
	}
	m, err := model.ParseLength(word, p.Units)
	if err != nil {
		return "", fmt.Errorf("%q is no ring of the kit: type thicknesses such as %s, flange first, or none", model.Clip(word), exampleRing(p))
	}
	for _, r := range p.Rings {
		if r.Thickness.Length == m.Length || r.Measured.Unit != model.NoUnit && r.Measured.Length == m.Length {
			return r.ID, nil
		}
	}
	return "", fmt.Errorf("the kit has no ring of %s: type thicknesses such as %s, flange first, or none", m, exampleRing(p))
}

func exampleRing(p model.Profile) string {
	if len(p.Rings) == 0 {
		return "0.25 mm"
	}
	return p.Rings[0].Thickness.String()
}
