package stages

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/sawdatum/wizard/procedure"
)

// TestWorkByNumberOrWord: other work keeps its number whatever else may begin, and is found by
// the words that people have for it.
func TestWorkByNumberOrWord(t *testing.T) {
	before, after := fresh(t, nil), setUp(t)
	after.again(procedure.Options{Seed: 2})
	after.upTo("close")
	numbers := map[int]string{}
	for _, tasks := range [][]procedure.Task{before.p.Tasks(), after.p.Tasks()} {
		seen := map[int]bool{}
		for _, task := range tasks {
			if name := numbers[task.Number]; name != "" && name != task.Word || seen[task.Number] {
				t.Errorf("%d is %s and %s", task.Number, name, task.Word)
			}
			numbers[task.Number], seen[task.Number] = task.Word, true
		}
	}
	tasks := after.p.Tasks()
	if len(tasks) <= len(before.p.Tasks()) {
		t.Errorf("%d kinds of work before a setup, %d after it", len(before.p.Tasks()), len(tasks))
	}
	for text, want := range map[string]string{"ring-l": "ring-lost", "knife-l": "knife-lost", "ring-b": "ring-bought", "Rename": "rename", "inches": "units", "sharp": "sharpened", "note": "note", "read the fence": "again pairs", "again lock": "again lock-again", "stage 7": "again knife k25", "stage 3": "again arbor"} {
		i, err := procedure.FindTask(tasks, text)
		if err != nil || tasks[i].Word != want {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if n, err := procedure.FindTask(tasks, " "+numberOf(tasks, want)); err != nil || n != i {
			t.Errorf("%s is not found by its number %s", want, numberOf(tasks, want))
		}
	}
	tasks = append(tasks, procedure.Task{Label: papersRow.Title(procedure.Context{}), Word: papersRow.Name, Also: papersRow.Also, Number: 99}) // no paper can be written here
	for text, want := range map[string]string{"card": "papers", "cards": "papers", "Print cards": "papers", "show card": "papers", "change units": "units", "bought blade": "blade-new", "lost rings": "ring-lost", "blade lost": "retire", "ground": "sharpened", "fence bumped": "fence-moved", "broken knife": "knife-lost"} {
		if i, err := procedure.FindTask(tasks, text); err != nil || tasks[i].Word != want {
			t.Errorf("%q: %v", text, err)
		}
	}
	for text, says := range map[string]string{"ring": "(A ring was bought), 13 (A ring was lost, or is bent) or", "lost": "or 17 (A riving knife was lost, broken or given away)", "zebra": "no work", "": "nothing typed", "98": "no work", "s": "more than one", "cards of": "no work"} {
		if _, err := procedure.FindTask(tasks, text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func numberOf(tasks []procedure.Task, word string) string {
	i := slices.IndexFunc(tasks, func(t procedure.Task) bool { return t.Word == word })
	return strconv.Itoa(tasks[i].Number)
}

// TestActsDoneAgain: heel and toe, and the scale, are done again where somebody asks for it, and
// the work leads there.
func TestActsDoneAgain(t *testing.T) {
	for word, step := range map[string]string{"again heel-toe": "heel-toe", "again pairs": "pairs"} {
		h := setUp(t)
		h.again(procedure.Options{Seed: 2})
		h.upTo("close")
		i, err := procedure.FindTask(h.p.Tasks(), word)
		if err != nil {
			t.Fatal(err)
		}
		next, err := h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: h.p.Tasks()[i].Place})
		if err != nil {
			t.Fatal(err)
		}
		h.p = next
		h.upTo(step)
	}
}
