package export

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
)

// state is a short code of what the papers tell of the blades: the first four hex
// digits of the SHA-256 (FIPS 180-4) of their rows, dates of proof included. The day
// and the units of a paper are not in it.
func (s sheet) state() string {
	h := sha256.New()
	for _, r := range newSheet(s.profile, s.plan, Options{}).rows {
		told := []string{r.Name, r.Mark, r.Stack(), r.Knife, r.Residual[0], r.Proved, r.Due}
		if r.Usable {
			told[1] = "" // a paper tells the day from which its blade is due
		}
		for _, why := range r.Why {
			told = append(told, why.Text)
		}
		fmt.Fprintf(h, "%q\n", told)
	}
	return fmt.Sprintf("%x", h.Sum(nil)[:2])
}

// stamp is what every paper carries: the day, the state that it was made from, and who was
// last at the saw.
func (s sheet) stamp() string {
	out := s.date() + " state " + s.state()
	if n := len(s.profile.Records); n > 0 {
		out += " " + text.Show(s.profile.Records[n-1].By)
	}
	return out
}

var stampForm = regexp.MustCompile(`(\d{4}-\d{2}-\d{2}) state ([0-9a-f]{4})\b`)

// bothForm is a length in both units.
var bothForm = regexp.MustCompile(`\d (mm|in)[\pZ] ?/[\pZ][\d.]+[\pZ](mm|in)\b`)

// Paper is a card, a page or labels on disk.
type Paper struct {
	Path      string
	As        string // the export that it is
	BothUnits bool
	Date      string // 2026-03-02
	State     string // 4f2c
	Now       string // the state that the profile is in
}

// Stale lists the papers that lie beside the profile at path, under the names that
// WriteBeside gives them, and that no longer tell what the profile tells. Files that
// are no papers of this program are passed over.
func Stale(path string, p model.Profile, plan model.Plan) []Paper {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	var out []Paper
	now := sheet{profile: p, plan: plan}.state()
	for _, as := range Ways() {
		if as == "handover" { // it tells of a day that is over
			continue
		}
		text, err := profiles.ReadFile(beside(path, as))
		if err != nil || !ways[as].wrote(text) {
			continue
		}
		m := stampForm.FindSubmatch(text)
		if m == nil || string(m[2]) == now {
			continue
		}
		out = append(out, Paper{beside(path, as), as, bothForm.Match(text), string(m[1]), string(m[2]), now})
	}
	return out
}

// beside is the name of an export beside the profile at path.
func beside(path, as string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ways[as].tail
}

// isExport reports whether a text is an export of this program, but for a copy of a
// profile.
func isExport(text []byte) bool {
	return slices.ContainsFunc(Ways(), func(as string) bool { return ways[as].wrote(text) })
}

// never matches no text: a copy of a profile is not known as an export.
func never([]byte) bool { return false }

// stamped matches a paper with that beginning, and a stamp.
func stamped(beginning string) func([]byte) bool {
	return func(text []byte) bool {
		return bytes.HasPrefix(text, []byte(beginning)) && stampForm.Match(text)
	}
}

// cardForm is the head of a card: the saw with the stamp, the datum, the columns.
var cardForm = regexp.MustCompile(`^[^\n]* state [0-9a-f]{4}\b[^\n]*\ndatum: [^\n]+\n(?:[^\n]+\n)?TEETH +RINGS, `)

func wroteCSV(text []byte) bool {
	first, _, _ := bytes.Cut(text, []byte("\n"))
	return slices.ContainsFunc([]bool{false, true}, func(both bool) bool { return string(first) == strings.Join(csvHead(both), ",") })
}

// wroteJSON reports whether a text has the keys of a plan.
func wroteJSON(text []byte) bool {
	var got map[string]json.RawMessage
	if json.Unmarshal(text, &got) != nil {
		return false
	}
	for _, key := range []string{"name", "reference", "standing_mm", "blades"} {
		if _, ok := got[key]; !ok {
			return false
		}
	}
	return true
}

// replaceable says why an export may not take the place of a plain file; nil: it may,
// since that is an export of this program, or empty.
func replaceable(path string, info fs.FileInfo) error {
	data, err := profiles.ReadFile(path)
	if err != nil {
		return err
	}
	if len(data) > 0 && !isExport(data) {
		return fmt.Errorf("%s: is there already and is no card, page or table of this program, so it stays: choose another name, or move it away", text.Show(path))
	}
	return profiles.Writable(path, info)
}
