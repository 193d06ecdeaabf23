package export

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// TestHandover tells the other shift what changed since it last wrote, what is due and which
// papers to swap, and nothing that it knows.
func TestHandover(t *testing.T) {
	p, plan := shop()
	mount := model.Record{At: at(100), By: "KB", Kind: model.Mount, Blade: "rip-24", Rings: []string{"r15", "r50"}, Knife: "k25"}
	p.Records = []model.Record{note(0, "MS", "long known"), mount, note(200, "KB", "listen to the bearing\x1b"), note(300, "KB", "spoiled"),
		{At: at(400), By: "KB", Kind: model.Void, Of: note(300, "KB", "").Ref(), Why: "not so"}, {At: at(500), By: "KB", Kind: model.Found, Blade: "rip-24", Mounting: mount.Ref(), Text: model.NothingFound}}
	strip := model.Record{At: at(600), By: "KB", Kind: model.StripCut, Blade: "rip-24", For: model.ForBlade, Lock: "l1", Mounting: mount.Ref()}
	p.Records = append(p.Records, strip, model.Record{At: at(700), By: "KB", Kind: model.Kept, Of: strip.Ref()}, model.Record{At: at(800), By: "KB", Kind: model.KnifeGone, Knife: "k25", Text: "lost"})
	before := plan
	before.Blades = slices.Clone(plan.Blades)
	before.Blades[1].State, before.Blades[1].Proved, before.Blades[1].Stack = model.StateNotReady, nil, []string{"r15"}
	plan.Blades[2].State, plan.Blades[2].Due, plan.Blades[2].Proved = model.StateDue, at(0), plan.Blades[1].Proved
	before.Blades[2] = plan.Blades[2]
	opt := Options{Now: at(0).Add(5 * 24 * time.Hour), Before: before, Papers: []Paper{{Path: "bay-card.txt", As: "card", Date: "2026-02-01", State: "4f2c"}}}
	var b bytes.Buffer
	if err := Write(&b, "handover", p, plan, opt); err != nil {
		t.Fatal(err)
	}
	whole := b.String()
	text := strings.Join(strings.Fields(whole), " ")
	from := 0
	for _, want := range []string{"HANDOVER, PRACTICE BAY SAW", "state", "8 records by KB since MS last wrote on 2026-03-02 07:30 UTC.", "24-tooth rip, 0.15 mm + 0.50 mm, no knife", "treat it as live",
		"CHANGED", "24-tooth rip: was NOT READY, now READY; was 0.15 mm, now 0.15 mm + 0.50 mm; proved 2026-03-02 KB", `listen to the bearing\x1b`,
		"the strip of 24-tooth rip of 2026-03-02 07:40 UTC stood apart, was looked at and counts", "knife 2.5 mm is gone: lost",
		"DUE, OR NOT TO BE USED", "48-tooth general: NOT READY: the knife does not fit", "80-tooth fine crosscut: DUE for 5 days", "PAPERS TO SWAP", "bay-card.txt is of 2026-02-01, state 4f2c: write it anew with export --as card"} {
		n := strings.Index(text[from:], want)
		if n < 0 {
			t.Fatalf("%q is not there, or not in its place:\n%s", want, whole)
		}
		from += n + len(want)
	}
	for _, known := range []string{"long known", "spoiled", "not so", "found when cleaned", "crosscut: was"} {
		if strings.Contains(text, known) {
			t.Errorf("%q is no news:\n%s", known, whole)
		}
	}
	for _, line := range strings.Split(whole, "\n") {
		if ansi.StringWidth(line) > 80 {
			t.Errorf("%d columns: %s", ansi.StringWidth(line), line)
		}
	}
	if !isExport(b.Bytes()) {
		t.Error("it would not be taken for a paper of this program")
	}
}

// TestHandoverOfAnotherKnife tells of a blade that stands as before and runs with another knife now.
func TestHandoverOfAnotherKnife(t *testing.T) {
	p, plan := shop()
	p.Knives = append(p.Knives, model.Knife{ID: "k26", Thickness: model.Measure{Length: 2_600_000, Unit: model.MM}})
	p.Records = []model.Record{{At: at(0), By: "MS", Kind: model.Line, Blade: "rip-24", Knife: "k26"}, note(100, "KB", "x")}
	var b bytes.Buffer
	if err := Write(&b, "handover", p, plan, Options{Now: at(200), Before: plan}); err != nil {
		t.Fatal(err)
	}
	if want := "24-tooth rip: was knife 2.6 mm, now knife 2.5 mm\n"; !strings.Contains(b.String(), want) || strings.Contains(b.String(), "no blade stands otherwise") {
		t.Errorf("want %q in\n%s", want, b.String())
	}
}

// TestHandoverOfWhatWasTakenUp: what a blade waited for is no news once it may be used again.
func TestHandoverOfWhatWasTakenUp(t *testing.T) {
	p, plan := shop()
	left := func(seconds int, blade, text string) model.Record {
		r := note(seconds, "KB", text)
		r.About, r.Blade = model.AboutLeft, blade
		return r
	}
	p.Records = []model.Record{note(0, "MS", "x"), left(100, "rip-24", "waits for a ring"), left(200, "general-48", "waits for a knife")}
	var b bytes.Buffer
	if err := Write(&b, "handover", p, plan, Options{Now: at(300), Before: plan}); err != nil {
		t.Fatal(err)
	}
	if text := b.String(); strings.Contains(text, "waits for a ring") || !strings.Contains(text, "waits for a knife") {
		t.Error(text)
	}
}
