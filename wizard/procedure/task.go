package procedure

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/sawdatum/model"
)

// Task is work that may begin at any time, whatever comes next. Its number is its own on one
// saw, whatever else may begin; Word is a short name for it, Also what else people call it. Stage is that of
// a physical act that is done again, 0 of other work.
type Task struct {
	Place  Place
	Stage  int
	Label  string
	Number int
	Word   string
	Also   string
}

// Tasks lists the other work that may begin now: that of the house, and every physical
// act that can be done again.
func (p Procedure) Tasks() []Task {
	var out []Task
	for i := range p.house.Work {
		if row := &p.house.Work[i]; row.When == nil || row.When(p.now) {
			out = append(out, Task{Place: Place{Step: row.Name}, Label: row.Title(p.now), Number: i + 1, Word: row.Name, Also: row.Also})
		}
	}
	n := len(p.house.Work)
	for _, s := range p.Places() {
		row := p.again(s.Place)
		if row == nil {
			continue
		}
		if n++; s.Done {
			out = append(out, Task{s.Place, s.Stage, "Again: " + s.Title, n, "again " + s.Place.String(), row.Also})
		}
	}
	return out
}

// FindTask is the index of the task that a text names: by its number, by its word or label or
// the beginning of one, by what stands somewhere in one of them only, or by words of them in any
// order, one or many (cards for card); stage 8, or the name of a stage, is what of it may be done again. The error says
// what would be right.
func FindTask(tasks []Task, text string) (int, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return 0, errors.New("nothing typed: type the number of a line, or a word of it")
	}
	stage := stageCalled(text)
	ways := []func(Task) bool{
		func(t Task) bool { return strconv.Itoa(t.Number) == text },
		func(t Task) bool { return t.Word == text || strings.ToLower(t.Label) == text },
		func(t Task) bool {
			return strings.HasPrefix(t.Word, text) || strings.HasPrefix(strings.ToLower(t.Label), text)
		},
		func(t Task) bool {
			return strings.Contains(t.Word, text) || strings.Contains(strings.ToLower(t.Label), text)
		},
		func(t Task) bool { return t.saysAll(strings.Fields(text)) },
		func(t Task) bool { return stage > 0 && t.Stage == stage },
	}
	if strings.HasPrefix(text, "stage ") {
		ways = ways[len(ways)-1:]
	}
	for _, names := range ways {
		var found []int
		for i, t := range tasks {
			if names(t) {
				found = append(found, i)
			}
		}
		if len(found) == 1 {
			return found[0], nil
		}
		if few := 3; len(found) > few {
			return 0, fmt.Errorf("%q names more than one, %d lines: type the number of the one, or more of its words", model.Clip(text), len(found))
		}
		if len(found) > 1 {
			words := make([]string, len(found))
			for i, at := range found {
				words[i] = fmt.Sprintf("%d (%s)", tasks[at].Number, tasks[at].Label)
			}
			return 0, fmt.Errorf("%q names more than one: type %s", model.Clip(text), model.Either(words))
		}
	}
	if stage > 0 {
		return 0, fmt.Errorf("nothing of stage %d, %s, may be done again now: its work comes in its order, and going back corrects what was typed in it", stage, Stages[stage-1])
	}
	return 0, fmt.Errorf("%q is no work that may begin now: type the number of a line, or a word of it", model.Clip(text))
}

// Stages are the names of the eleven stages, in their order.
var Stages = [...]string{"isolate and clear", "saw", "arbor", "rack", "mount reference", "gauge board", "knife", "fence scale", "reference strips", "compare", "close"}

// stageCalled is the stage that a text in small letters names whole, such as stage 8 or fence scale; 0: none.
func stageCalled(text string) int {
	called, stage := strings.CutPrefix(text, "stage ")
	called = strings.TrimSpace(called)
	for i, name := range Stages {
		if text == name || stage && (called == strconv.Itoa(i+1) || called == name) {
			return i + 1
		}
	}
	return 0
}

// saysAll reports whether each of some words, or what it is without an s at its end, begins a word of the task.
func (t Task) saysAll(words []string) bool {
	own := strings.FieldsFunc(strings.ToLower(t.Label+" "+t.Word+" "+t.Also), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return !slices.ContainsFunc(words, func(w string) bool {
		one := strings.TrimSuffix(w, "s")
		return one == "" || !slices.ContainsFunc(own, func(o string) bool { return strings.HasPrefix(o, one) })
	})
}
