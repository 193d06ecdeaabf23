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
// saw, whatever else may begin; Word is a short name for it, Also what else people call it.
type Task struct {
	Place  Place
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
			out = append(out, Task{Place{Step: row.Name}, row.Title(p.now), i + 1, row.Name, row.Also})
		}
	}
	n := len(p.house.Work)
	for _, s := range p.Places() {
		row := p.again(s.Place)
		if row == nil {
			continue
		}
		if n++; s.Done {
			out = append(out, Task{s.Place, "Again: " + s.Title, n, "again " + s.Place.String(), row.Also})
		}
	}
	return out
}

// FindTask is the index of the task that a text names: by its number, by its word or label or
// the beginning of one, by what stands somewhere in one of them only, or by words of them in any
// order, one or many (cards for card). The error says what would be right.
func FindTask(tasks []Task, text string) (int, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return 0, errors.New("nothing typed: type the number of a line, or a word of it")
	}
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
		if len(found) > 1 {
			words := make([]string, len(found))
			for i, at := range found {
				words[i] = fmt.Sprintf("%d (%s)", tasks[at].Number, tasks[at].Word)
			}
			return 0, fmt.Errorf("%q names more than one: type %s", model.Clip(text), model.Either(words))
		}
	}
	return 0, fmt.Errorf("%q is no work that may begin now: type the number of a line, or a word of it", model.Clip(text))
}

// saysAll reports whether each of some words, or what it is without an s at its end, begins a word of the task.
func (t Task) saysAll(words []string) bool {
	own := strings.FieldsFunc(strings.ToLower(t.Label+" "+t.Word+" "+t.Also), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return !slices.ContainsFunc(words, func(w string) bool {
		one := strings.TrimSuffix(w, "s")
		return one == "" || !slices.ContainsFunc(own, func(o string) bool { return strings.HasPrefix(o, one) })
	})
}
