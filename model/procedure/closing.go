package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

// Export is a way of handing the profile on that the closing place was asked for.
type Export struct {
	As        string // one of Options.Exports; empty: none
	BothUnits bool
}

func (e Export) String() string {
	if e.BothUnits {
		return e.As + " " + bothUnits
	}
	return e.As
}

// bothUnits is typed behind the name of an export.
const bothUnits = "both"

// Export is what the last accepted answer asked to be written. The procedure stays
// where it is; writing is the caller's.
func (p Procedure) Export() Export { return p.run.export }

// export reads the name of an export.
func (f Field) export(text string) (Export, error) {
	words := strings.Fields(strings.ToLower(text))
	both := len(words) == 2 && words[1] == bothUnits
	if len(words) == 0 || len(words) > 1 && !both || !slices.Contains(f.Options, words[0]) {
		return Export{}, fmt.Errorf("%q is not one of them: type %s to leave, or %s, with %s behind it for both units", model.Clip(text), f.Word, model.Either(f.Options), bothUnits)
	}
	return Export{As: words[0], BothUnits: both}, nil
}

// uses say whom an export is for.
var uses = map[string]string{
	"yaml": "the other shift", "card": "the wall", "labels": "the boxes", "html": "to print", "csv": "a table", "json": "programs",
}

func described(exports []string) string {
	out := make([]string, len(exports))
	for i, name := range exports {
		out[i] = name
		if use, ok := uses[name]; ok {
			out[i] += " (" + use + ")"
		}
	}
	return strings.Join(out, ", ")
}

var closingSteps = map[string]step{
	"close": {
		number: 11, once: true, picture: RackPicture, title: titled("Where every blade stands"),
		do: func(c context) []string {
			if c.options.Mode == IsolateOnly {
				return []string{"Hands are out and the saw is closed. It is still isolated.", "Type done to leave."}
			}
			ready, all := 0, 0
			for _, b := range c.plan.Blades {
				all++
				if b.Ready {
					ready++
				}
			}
			leave := "Type done to leave."
			if len(c.options.Exports) > 0 {
				leave = fmt.Sprintf("With %s behind it, it has both units. %s", bothUnits, leave)
				return []string{fmt.Sprintf("%d of %d blades are ready.", ready, all), "For others, type one of " + described(c.options.Exports) + ".", leave}
			}
			return []string{fmt.Sprintf("%d of %d blades are ready.", ready, all), leave}
		},
		why:  words("What is not ready has its reason beside it."),
		help: []string{"card and html are for the wall, labels for the boxes of the blades, yaml is a copy of the profile for the other shift to import, csv and json are for other programs."},
		fields: func(c context) []Field {
			if c.options.Mode == IsolateOnly || len(c.options.Exports) == 0 {
				return []Field{wordField("done", "Done for now", "done")}
			}
			return []Field{{Key: "done", Label: "For others, or done", Hint: "one of them, or type done", Kind: FieldExport, Options: c.options.Exports, Word: "done"}}
		},
		accept: func(t *taking) {
			if strings.EqualFold(t.text("done"), "done") {
				t.run.finished = true
				return
			}
			t.run.export, _ = t.field("done").export(t.text("done"))
		},
	},
}
