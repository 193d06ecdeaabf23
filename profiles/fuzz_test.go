package profiles

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

// FuzzLoad: no text makes reading panic or gives a line that does harm; what is taken
// reads the same when it is written anew, when records are added to its text and when
// its head is changed.
func FuzzLoad(f *testing.F) {
	kinds := chosenDemo()
	kinds.Records = everyKind()
	for _, text := range []string{whole, Format(kinds), string(demo), strings.Replace(whole, "Bay 2", "\u202eBay", 1), strings.Replace(whole, "bay-two", `"\e[2J"`, 1), "sawdatum: 1\n\x88: &a b\n", "sawdatum: 0\nname: a\nwidth: 3 mm\n", "? [1]\n: 2\n<<: {b: 1}\n", "sawdatum: 1\nrecords: [] # c\n", "{sawdatum: 1, name: a}", "sawdatum: 1\nname: \"a\n  b\"\n...\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		loaded, err := opened("fuzz.yaml", data)
		if err != nil {
			if !harmlessText(err.Error()) {
				t.Fatalf("%q", err)
			}
			return
		}
		p := loaded.Profile
		if again, findings := Parse("again", []byte(Format(p))); len(findings.Faults()) > 0 || !sameProfile(again, p) {
			t.Fatalf("written anew: %v\n%s", findings, Format(p))
		}
		stable := func(what string, want model.Profile) File {
			out, err := loaded.rewrite(want, continues(loaded.Profile.Records, want.Records))
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			back, findings := Parse("back", out.data)
			if len(findings.Faults()) > 0 || !sameProfile(back, want) {
				t.Fatalf("%s: %v\n%s", what, findings, out.data)
			}
			return out
		}
		last := at(0)
		if n := len(p.Records); n > 0 {
			last = p.Records[n-1].At
		}
		if last.Year() > 9990 {
			return
		}
		same := stable("unchanged", p)
		if loaded.layout.form != awkward && !loaded.migrated && string(same.data) != string(data) {
			t.Fatalf("unchanged, but written otherwise:\n%s", same.data)
		}
		added := plus(p, model.Record{At: last.Add(time.Second), By: "KB", Kind: model.Note, Text: "more: [#\"] 'x"}, model.Record{At: last.Add(2 * time.Second), By: "KB", Kind: model.Arbor, Dial: []model.Measure{mm(0), mm(10_000)}})
		out := stable("added to", added)
		if loaded.layout.form == listed && !loaded.migrated && !strings.HasPrefix(string(out.data), string(data)) {
			t.Fatalf("an earlier byte changed:\n%s", out.data)
		}
		loaded = out
		more := plus(added, model.Record{At: last.Add(3 * time.Second), By: "KB", Kind: model.Note, Text: "and more"})
		more.Rings = append(slices.Clone(more.Rings), model.Ring{ID: "fuzzed", Thickness: mm(100_000), Count: 1})
		if len(model.Profile{Rings: more.Rings}.Validate()) > 0 && len(more.Validate()) > len(added.Validate()) {
			return // the kit is full, or has such a ring
		}
		loaded = stable("head changed", more)
		stable("one put before", withRecords(more, union(more.Records, []model.Record{{At: last, By: "AB", Kind: model.Note, Text: "put before"}})))
	})
}
