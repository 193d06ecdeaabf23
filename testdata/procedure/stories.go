// Package procedure holds the stories of the work at a saw, and reads them for those
// who tell them to the procedure. How they are written stands in the first one.
package procedure

import (
	"embed"
	"fmt"
	"strings"
)

//go:embed *.txt
var files embed.FS

// Shop is the profile of the saw that all stories are about, as a file holds it.
//
//go:embed shop.yaml
var Shop []byte

// Story is one story.
type Story struct {
	Name  string // of its file, without the ending
	Lines []Line
}

// Line is one thing that happens, or that must hold then.
type Line struct {
	Where   string // file, number and text: what a message begins with
	What    string // before the colon: the place that is answered, or the check
	Rest    string // behind the colon: the answers, or what must hold
	Check   bool   // nothing happens: What must be as Rest says
	Leads   string // the place that comes next
	Refused string // words of the refusal; empty: it is taken
}

// Answers are those of the line, in the order of the fields; done reports that they
// are those of an honest hand.
func (l Line) Answers() (texts []string, done bool) {
	return strings.Split(l.Rest, ", "), l.Rest == "done"
}

// All reads all stories, in the order of their names.
func All() ([]Story, error) {
	entries, err := files.ReadDir(".")
	if err != nil {
		return nil, err
	}
	var out []Story
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			return nil, err
		}
		out = append(out, Story{strings.TrimSuffix(e.Name(), ".txt"), lines(e.Name(), string(text))})
	}
	return out, nil
}

func lines(file, text string) []Line {
	var out []Line
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		event, result, arrow := strings.Cut(line, " -> ")
		l := Line{Where: fmt.Sprintf("%s:%d: %s", file, n+1, line), Check: !arrow, Leads: result}
		l.What, l.Rest, _ = strings.Cut(event, ": ")
		if words, ok := strings.CutPrefix(result, "refused: "); ok {
			l.Leads, l.Refused = "", words
		}
		out = append(out, l)
	}
	return out
}
