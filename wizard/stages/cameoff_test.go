package stages

import (
	"slices"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// Another shift put other rings on: the true number is taken, and nothing by name goes on record.
func TestOthersCameOff(t *testing.T) {
	h := fresh(t, nil).upTo("boards")
	h.again(procedure.Options{Seed: 3}) // another day, and nobody looked
	h.upTo("clear")
	f := h.p.View().Fields[0]
	for text, taken := range map[string]bool{"0": true, "3": false, "3 other": true, "x other": false, "300 other": false} {
		if err := f.Check(text); (err == nil) != taken {
			t.Errorf("%q at %q: %v", text, f.Label, err)
		}
	}
	h.step(map[string]string{"clear off": "3 other"})
	all := h.p.Profile().Records
	if last := all[len(all)-1]; last.Kind != model.TakenOff || last.Blade != "" || len(last.Rings) > 0 {
		t.Errorf("nobody knows by name what came off, and on record is %+v", last)
	}
}

// TestReadOffOrLookedAt: what another shift left on the arbor is read off as it comes off where
// its teeth tell it from every other blade, and one knife is all that the saw has and is in; else
// somebody looks before. Who recorded it himself, and today, need do neither.
func TestReadOffOrLookedAt(t *testing.T) {
	done := setUp(t)
	day := done.at.AddDate(0, 0, 1)
	mounted := func(p *model.Profile) (on int) {
		for i, r := range p.Records {
			if r.Kind == model.Mount {
				on = i
			}
		}
		return on
	}
	for _, c := range []struct {
		what     string
		change   func(*model.Profile)
		read     bool
		own, was bool // the record is that of who is there, and is looked for on its day
	}{
		{"another shift's", func(*model.Profile) {}, true, false, false},
		{"another blade with as many teeth", func(p *model.Profile) { p.Blades[3].Teeth = p.Blades[0].Teeth }, false, false, false},
		{"another knife", func(p *model.Profile) {
			p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k22", Thickness: model.Measure{Length: 2200 * model.Millimetre / 1000, Unit: model.MM}})
		}, false, false, false},
		{"no knife in", func(p *model.Profile) {
			on := p.Records[mounted(p)]
			off := record{Kind: model.TakenOff, By: "ZZ", At: day.Add(-3 * time.Hour), Blade: on.Blade, Rings: reversed(on.Rings), Knife: "k25"}
			on.At, on.By, on.Knife = day.Add(-2*time.Hour), "ZZ", ""
			p.Records = append(p.Records[:len(p.Records):len(p.Records)], off, on)
		}, false, false, false},
		{"nothing told", func(p *model.Profile) { p.Records = nil }, false, false, false},
		{"his own, of that day", func(*model.Profile) {}, false, true, true},
		{"his own, and void", func(p *model.Profile) {
			n := mounted(p) + 1 // before it was seen in line
			p.Records = append(p.Records[:n:n], record{Kind: model.Void, By: "KB", At: done.at, Of: p.Records[n-1].Ref(), Why: "another blade"})
		}, false, false, true},
	} {
		p := done.p.Profile()
		p.Blades = slices.Clone(p.Blades)
		c.change(&p)
		o := procedure.Options{Mode: procedure.Swap, Blade: "rip-24"}
		now := procedure.New(p, House(o), solver.Judge, o).Now()
		now.Need = interlock.Need{On: dressed(now, "rip-24", []string{"r20"})}
		if now.At, now.Who = day, "MO"; c.was {
			now.At, now.Who = done.at.Add(time.Minute), "KB"
		}
		if read, own := readOff(now), ownToday(now); read != c.read || own != c.own {
			t.Errorf("%s: read off %v, his own %v; want %v, %v", c.what, read, own, c.read, c.own)
		}
		if lock := isolated(t, now.Lock); c.read { // somebody looked at it since this run began
			on := now.State.On
			seen := now
			seen.Lock, _ = lock.Apply(interlock.Sighted(lock.Hands(), form.Fit(on.Blade, on.Rings, on.Knife)))
			if _, known := seen.Lock.On(); !known || readOff(seen) {
				t.Errorf("%s: seen in this run, %v, it is read off once more", c.what, known)
			}
		}
		now.Need.On = interlock.Fit{Blade: now.State.On.Blade, Knife: now.State.On.Knife}
		if on := now.State.On; len(on.Rings) == 0 && readOff(now) {
			t.Errorf("%s: it stays on, and is read off as it comes off", c.what)
		}
	}
}

// isolated is the lock of a saw that was stopped and cut off.
func isolated(t *testing.T, lock interlock.State) interlock.State {
	t.Helper()
	for _, e := range []interlock.Event{interlock.Stopped(6*time.Second, 10*time.Second), interlock.IsolatedNow()} {
		next, ok := lock.Apply(e)
		if !ok {
			t.Fatalf("%s is refused", e)
		}
		lock = next
	}
	return lock
}
