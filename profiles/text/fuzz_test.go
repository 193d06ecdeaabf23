package text

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/sample"
)

// FuzzLoad: no text makes reading panic or gives a line that does harm; what is taken
// reads the same when it is written anew, when records are added to its text and when
// its head is changed.
func FuzzLoad(f *testing.F) {
	kinds := chosenDemo()
	kinds.Records = everyKind()
	for _, text := range []string{sample.Whole, Format(kinds), string(shopText()), strings.Replace(sample.Whole, "Bay 2", "\u202eBay", 1), strings.Replace(sample.Whole, "bay-two", `"\e[2J"`, 1), "sawdatum: 1\n\x88: &a b\n", "sawdatum: 0\nname: a\nwidth: 3 mm\n", "? [1]\n: 2\n<<: {b: 1}\n", "sawdatum: 1\nrecords: [] # c\n", "{sawdatum: 1, name: a}", "sawdatum: 1\nname: \"a\n  b\"\n...\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		loaded := Read("fuzz.yaml", data)
		if faults := loaded.Findings.Faults(); len(faults) > 0 {
			if !sample.Harmless(faults.Error()) {
				t.Fatalf("%q", faults)
			}
			return
		}
		p := loaded.Profile
		if again, findings := Parse("again", []byte(Format(p))); len(findings.Faults()) > 0 || !sameProfile(again, p) {
			t.Fatalf("written anew: %v\n%s", findings, Format(p))
		}
		stable := func(what string, want model.Profile) Document {
			out, err := loaded.Rewrite(want, startsWith(want.Records, loaded.Profile.Records))
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			back, findings := Parse("back", out.Data)
			if len(findings.Faults()) > 0 || !sameProfile(back, want) {
				t.Fatalf("%s: %v\n%s", what, findings, out.Data)
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
		if loaded.layout.form != awkward && !loaded.Migrated && string(same.Data) != string(data) {
			t.Fatalf("unchanged, but written otherwise:\n%s", same.Data)
		}
		added := plus(p, model.Record{At: last.Add(time.Second), By: "KB", Kind: model.Note, Text: "more: [#\"] 'x"}, model.Record{At: last.Add(2 * time.Second), By: "KB", Kind: model.Arbor, Dial: []model.Measure{mm(0), mm(10_000)}})
		out := stable("added to", added)
		if loaded.layout.form == listed && !loaded.Migrated && !strings.HasPrefix(string(out.Data), string(data)) {
			t.Fatalf("an earlier byte changed:\n%s", out.Data)
		}
		loaded = out
		more := plus(added, model.Record{At: last.Add(3 * time.Second), By: "KB", Kind: model.Note, Text: "and more"})
		more.Rings = append(slices.Clone(more.Rings), model.Ring{ID: "fuzzed", Thickness: mm(100_000), Count: 1})
		if len(model.Profile{Rings: more.Rings}.Validate()) > 0 && len(more.Validate()) > len(added.Validate()) {
			return // the kit is full, or has such a ring
		}
		loaded = stable("head changed", more)
		before := more
		before.Records = slices.Insert(slices.Clone(more.Records), len(p.Records), model.Record{At: last, By: "AB", Kind: model.Note, Text: "put before"})
		stable("one put before", before)
	})
}

// startsWith reports that records begin with those of first.
func startsWith(records, first []model.Record) bool {
	return len(records) >= len(first) && sameRecords(records[:len(first)], first)
}
