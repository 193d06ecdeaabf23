package model

import "testing"

// TestFreshPieceByHeight: a second pass takes off material only where the cut face has moved
// toward the fence since, so equal height proves nothing on either flange (job, Strips).
// Rings move it toward the fence on a far flange, away from it on a near one (job, Geometry).
func TestFreshPieceByHeight(t *testing.T) {
	for _, c := range []struct {
		flange      Flange
		before, now []string
		fresh       bool
	}{
		{Far, []string{"r10"}, []string{"r10"}, true}, {Far, []string{"r10"}, nil, true}, {Far, nil, []string{"r10"}, false},
		{Near, []string{"r10"}, []string{"r10"}, true}, {Near, []string{"r10"}, nil, false}, {Near, nil, []string{"r10"}, true}, {Near, nil, nil, true},
	} {
		p := Profile{Saw: Saw{Flange: c.flange}, Rings: []Ring{{ID: "r10", Thickness: mmOf(0.1), Count: 2}}}
		s := State{Lock: "a", Blades: map[string]BladeState{"rip": {Half: Half{Lock: "a", Rings: c.before}}}}
		if fresh, _ := s.NeedsFreshPiece(p, "rip", c.now); fresh != c.fresh {
			t.Errorf("%s, %v after %v: fresh %v", c.flange, c.now, c.before, fresh)
		}
	}
}
