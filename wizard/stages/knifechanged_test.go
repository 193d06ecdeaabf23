package stages

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// TestKnifeThatMayHaveBeenChanged: R2 wants the knife confirmed since it could last have
// changed. Whatever leaves the saw out of sight, or takes the knife out, has its thickness read
// off it again before the blade is powered up, and another knife's is refused; what leaves it
// where it stands asks nothing twice.
func TestKnifeThatMayHaveBeenChanged(t *testing.T) {
	send := func(e procedure.Event) func(*hand) {
		return func(h *hand) {
			h.t.Helper()
			e.At = h.at
			next, err := h.p.Apply(e)
			if err != nil {
				h.t.Fatal(err)
			}
			h.p = next
		}
	}
	begin := func(step string) func(*hand) {
		return send(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: step}})
	}
	idle := send(procedure.Event{Kind: procedure.Idle})
	for _, c := range []struct {
		name  string
		does  func(*hand)
		asked bool
	}{
		{"suspend", send(procedure.Event{Kind: procedure.Suspend}), true},
		{"another shift's records", func(h *hand) { send(procedure.Event{Kind: procedure.Joined, Profile: h.p.Profile()})(h) }, true},
		{"a new run", func(h *hand) {
			o := procedure.Options{Seed: 2}
			h.p = procedure.New(h.p.Profile(), House(o), solver.Judge, o)
		}, true},
		{"somebody was there", func(h *hand) { idle(h); h.step(map[string]string{"nobody-there nobody": "somebody"}) }, true},
		{"nobody was there", func(h *hand) { idle(h); h.step(nil) }, false},
		{"something else is on", func(h *hand) { begin("other-on")(h); h.step(nil) }, true},
		{"all of it taken out", func(h *hand) {
			begin("empty")(h)
			for range 5 {
				if h.p.View().Place.Step == "empty" {
					h.step(map[string]string{"empty knife": "out"})
					return
				}
				h.step(nil)
			}
		}, true},
		{"the fence moved", func(h *hand) { begin("fence-moved")(h); h.step(nil) }, false},
		{"the blade off, the knife in", func(h *hand) {
			begin("empty")(h)
			for range 5 {
				if h.p.View().Place.Step == "empty" {
					h.step(map[string]string{"empty knife": "stays"})
					return
				}
				h.step(nil)
			}
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := fresh(t, nil).upTo("boards")
			c.does(h)
			asked := false
			for range 30 {
				v := h.p.View()
				if v.Place.Step == "boards" {
					break
				}
				for _, f := range v.Fields {
					own := ""
					switch {
					case v.Place.Step == "look" && f.Key == "knife": // it is read off; another is taken off then
						asked = true
						continue
					case v.Place.Step == "mount" && f.Key == "knife":
						own = "2.0"
					case f.Key == "tip_gap" && strings.Contains(f.Label, "thickness"):
						own = "5 2.0"
					default:
						continue
					}
					asked = true
					if err := f.Check(own); err == nil || !strings.Contains(err.Error(), "belongs here") {
						t.Errorf("at %s a knife of 2.0 mm is taken for that of 2.5: %v", v.Place, err)
					}
				}
				h.step(nil)
			}
			if h.p.View().Place.Step != "boards" {
				t.Fatalf("the work stands at %s after %s", h.p.View().Place, strings.Join(h.way, ", "))
			}
			if asked != c.asked {
				t.Errorf("the knife's thickness is asked: %v, after %s", asked, strings.Join(h.way, ", "))
			}
		})
	}
}

// TestBoardOfAnotherBlade: a gauge board that another blade ripped, under the same lock, lies
// elsewhere by what that blade cuts wider: no knife is squared to it, and the reference rips one.
func TestBoardOfAnotherBlade(t *testing.T) {
	h := fresh(t, nil).upTo("boards")
	h.step(nil)
	now := h.p.Now()
	board := now.State.Boards
	if board == nil || board.Blade != now.Profile.Reference || !boardFor(now, unset(now)) || !boardsRow.Done(now) {
		t.Fatalf("the reference has ripped no board for the knife: %+v", board)
	}
	other := now.With(record{Kind: model.TakenOff, Blade: board.Blade, Rings: reversed(board.Rings), Knife: now.State.On.Knife}).
		With(record{Kind: model.Mount, Blade: "rip-24", Rings: []string{"r20"}, Knife: "k25"}).
		With(record{Kind: model.Boards, Lock: board.Lock, Blade: "rip-24", Rings: []string{"r20"}, Length: board.Length, Lead: board.Lead, Tail: board.Tail})
	if b := other.State.Boards; b == nil || b.Blade != "rip-24" || b.Lock != other.State.Lock {
		t.Fatalf("the board of the rip blade is not on record under the lock in force: %+v", b)
	}
	if boardFor(other, unset(other)) || boardsRow.Done(other) {
		t.Error("the knife would be squared to a board that the rip blade ripped")
	}
}

// TestBoxThatNamesAnotherKnife: a box is done once it tells the rings and the knife; one that
// names another knife, or none, is written anew.
func TestBoxThatNamesAnotherKnife(t *testing.T) {
	now := setUp(t).p.Now().For("rip-24")
	b, _ := now.Profile.BladeByID("rip-24")
	stack := stand(now, b.ID).stack
	for knife, done := range map[string]bool{b.Knife: true, "k20": false, "": false} {
		box := now.With(record{Kind: model.Box, Blade: b.ID, Rings: stack, Knife: knife})
		if boxRow.Done(box) != done {
			t.Errorf("its box names the knife %q, it runs with %q: done %v", knife, b.Knife, !done)
		}
	}
}
