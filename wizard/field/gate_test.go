package field

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func gateSpecs() []Spec {
	return []Spec{
		{Key: "run_down", Gate: true, Check: length},
		{Key: "word", Gate: true, Check: word("COPPER"), Value: "COPPER"},
		{Key: "by", Gate: true, Check: word("KB")},
	}
}

func TestGate(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(t *testing.T, l *List)
		at   int
		done bool
		word string
	}{
		{"by hand", func(t *testing.T, l *List) { press(t, l, "6<enter>COPPER<enter>KB<enter>") }, 2, true, "COPPER"},
		{"enter alone", func(t *testing.T, l *List) { press(t, l, "6<enter><enter><enter><enter>") }, 1, false, ""},
		{"a start text is not taken", func(t *testing.T, l *List) { press(t, l, "6<enter><enter>") }, 1, false, ""},
		{"pasted", func(t *testing.T, l *List) { press(t, l, "6<enter>"); paste(l, "COPPER"); press(t, l, "<enter>") }, 1, false, ""},
		{"one pasted letter", func(t *testing.T, l *List) { press(t, l, "6<enter>COPPE"); paste(l, "R"); press(t, l, "<enter>") }, 1, false, ""},
		{"typed ahead", func(t *testing.T, l *List) { press(t, l, "6<enter>"); burst(l, "COPPER"); press(t, l, "<enter>") }, 1, false, ""},
		{"half by hand, half typed ahead", func(t *testing.T, l *List) { press(t, l, "6<enter>COP"); burst(l, "PER"); press(t, l, "<enter>") }, 1, false, ""},
		{"a page with the word", func(t *testing.T, l *List) {
			press(t, l, "6<enter>")
			paste(l, "COPPER\r"+strings.Repeat("x\r", 50))
		}, 1, false, ""},
		{"wrong word, double enter", func(t *testing.T, l *List) { press(t, l, "6<enter>IRON<enter><enter>") }, 1, false, "IRON"},
		{"tab past the word", func(t *testing.T, l *List) { press(t, l, "6<tab><tab>KB<enter>") }, 1, false, ""},
		{"the clipboard key", func(t *testing.T, l *List) {
			press(t, l, "6<enter>")
			if _, cmd := l.Update(tea.KeyMsg{Type: tea.KeyCtrlV}); cmd != nil {
				t.Error("the clipboard was asked")
			}
		}, 1, false, ""},
	} {
		l := New(80, gateSpecs())
		c.do(t, l)
		t.Log(c.name)
		want(t, l, c.at, c.done, map[string]string{"word": c.word})
		if refused := strings.Contains(c.name, "past") && !strings.Contains(c.name, "tab") || strings.Contains(c.name, "ahead"); refused {
			press(t, l, "") // the message of the refusal, or of the enter after it
			if wrong(l) == nil {
				t.Errorf("%s: no message", c.name)
			}
		}
	}
	l := New(80, gateSpecs())
	paste(l, "6")
	if err := wrong(l); err == nil || !strings.Contains(err.Error(), "type the word by hand") {
		t.Errorf("message %v", err)
	}
	press(t, l, "6<enter>12")
	burst(l, "34")
	press(t, l, "5<enter><enter>")
	want(t, l, 0, false, map[string]string{"run_down": ""}) // never half of it
	press(t, l, "12<enter>")
	want(t, l, 1, false, nil)
}

// TestLateClipboard: an answer for a field that lost the focus goes nowhere.
func TestLateClipboard(t *testing.T) {
	specs := append(twoLengths()[:1:1], gateSpecs()[1])
	l := New(80, specs)
	first := l.entries[0].input
	press(t, l, "2.2<enter>")
	l.Update(pasted{first, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("COPPER")}})
	want(t, l, 1, false, map[string]string{"plate": "2.2", "word": ""})
	press(t, l, "<shift+tab>")
	l.Update(pasted{first, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("5")}})
	want(t, l, 0, false, map[string]string{"plate": "2.25", "word": ""})
}

// TestMissed: where keys were not taken, the rest up to an enter is not either. A default
// stands behind it; what was typed in part has to be changed.
func TestMissed(t *testing.T) {
	nine, enter := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("9")}, tea.KeyMsg{Type: tea.KeyEnter}
	unseen := errors.New("unseen")
	for _, c := range []struct {
		name, value, before, after string
		at                         int
		plate                      string
	}{
		{"a default stands", "2.2", "", "5<enter><enter>", 1, "2.2"},
		{"one enter does not accept it", "2.2", "", "5<enter>", 0, "2.2"},
		{"what was typed in part is not accepted", "", "2.", "5<enter><enter><enter>", 0, "2."},
		{"it is gone on with", "", "2.", "5<enter>3<enter>", 1, "2.3"},
		{"or emptied", "", "2.", "5<ctrl+u>3<enter>", 1, "3"},
		{"nothing stands there", "", "", "5<enter>3<enter>", 1, "3"},
		{"tab leads away", "2.2", "", "5<tab>3", 1, "2.2"},
	} {
		specs := twoLengths()
		specs[0].Value, specs[0].Default = c.value, true
		l := New(80, specs)
		press(t, l, c.before)
		l.Miss(nine, unseen)
		if wrong(l) != unseen {
			t.Errorf("%s: nothing is said", c.name)
		}
		press(t, l, c.after)
		if l.Focused() != c.at || l.Values()["plate"] != c.plate {
			t.Errorf("%s: %q, field %d; want %q, %d", c.name, l.Values()["plate"], l.Focused(), c.plate, c.at)
		}
	}
	l := New(80, twoLengths())
	l.Miss(nine, unseen)
	l.Miss(enter, unseen)
	press(t, l, "2.2")
	want(t, l, 0, false, map[string]string{"plate": "2.2"})
	New(80, nil).Miss(nine, unseen)
}
