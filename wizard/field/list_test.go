package field

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/sawdatum/model"
)

func length(text string) error {
	_, err := model.ParseLength(text, model.MM)
	return err
}

func word(want string) func(string) error {
	return func(text string) error {
		if text != want {
			return fmt.Errorf("%q is not the word: type %s", model.Clip(text), want)
		}
		return nil
	}
}

func twoLengths() []Spec {
	return []Spec{
		{Key: "plate", Check: length},
		{Key: "kerf", Check: length},
	}
}

var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "up": tea.KeyUp, "down": tea.KeyDown,
	"left": tea.KeyLeft, "backspace": tea.KeyBackspace, "ctrl+j": tea.KeyCtrlJ, "ctrl+u": tea.KeyCtrlU, "ctrl+w": tea.KeyCtrlW, "home": tea.KeyHome, "ctrl+v": tea.KeyCtrlV,
}

// press sends keys: <enter> and the like by name, else one message for each letter.
func press(t *testing.T, l *List, keys string) {
	t.Helper()
	for keys != "" {
		if name, rest, ok := strings.Cut(strings.TrimPrefix(keys, "<"), ">"); ok && keys[0] == '<' {
			kind, known := named[name]
			if !known {
				t.Fatalf("no key %q", name)
			}
			l.Update(tea.KeyMsg{Type: kind})
			keys = rest
			continue
		}
		r := []rune(keys)[0]
		kind := tea.KeyRunes
		if r == ' ' {
			kind = tea.KeySpace
		}
		l.Update(tea.KeyMsg{Type: kind, Runes: []rune{r}})
		keys = keys[len(string(r)):]
	}
}

func burst(l *List, text string) { l.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)}) }

func paste(l *List, text string) {
	l.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
}

func want(t *testing.T, l *List, at int, done bool, values map[string]string) {
	t.Helper()
	if l.Focused() != at || l.Done() != done {
		t.Errorf("focus %d, done %v; want %d, %v", l.Focused(), l.Done(), at, done)
	}
	got := l.Values()
	for key, value := range values {
		if got[key] != value {
			t.Errorf("%s is %q, want %q", key, got[key], value)
		}
	}
	exact(t, l)
}

// exact checks that the focused field's text is one line, no wider than the list.
func exact(t *testing.T, l *List) {
	t.Helper()
	if line := l.Input(); ansi.StringWidth(line) > l.width || strings.Contains(line, "\n") {
		t.Errorf("%d cells of %d: %q", ansi.StringWidth(line), l.width, line)
	}
}

// wrong is what is wrong with the focused field.
func wrong(l *List) error { return l.Error(l.entries[l.at].spec.Key) }

func TestKeys(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, c := range []struct {
			name, keys string
			at         int
			done       bool
			plate      string
			kerf       string
		}{
			{"typed", "2.2<enter>3.2<enter>", 1, true, "2.2", "3.2"},
			{"live before enter", "2.", 0, false, "2.", ""},
			{"enter on nothing stays", "<enter>", 0, false, "", ""},
			{"double enter on nothing stays", "<enter><enter><enter>", 0, false, "", ""},
			{"double enter stops at the next empty field", "2.2<enter><enter><enter>", 1, false, "2.2", ""},
			{"wrong text stays", "abc<enter>", 0, false, "abc", ""},
			{"wrong text stays on double enter", "abc<enter><enter>", 0, false, "abc", ""},
			{"corrected", "abc<enter><ctrl+u>2.2<enter>", 1, false, "2.2", ""},
			{"letters are text, never commands", "jkqxhG/:?", 0, false, "jkqxhG/:?", ""},
			{"tab leaves whatever is typed", "x<tab>3.2", 1, false, "x", "3.2"},
			{"the last enter looks at all fields", "x<tab>3.2<enter>", 0, false, "x", "3.2"},
			{"tab stays on the last field", "2.2<tab><tab><tab>", 1, false, "2.2", ""},
			{"tab alone never finishes", "2.2<tab>3.2<tab>", 1, false, "2.2", "3.2"},
			{"shift+tab stays on the first field", "<shift+tab>2", 0, false, "2", ""},
			{"up and down move too", "2.2<down>3.2<up>5", 0, false, "2.25", "3.2"},
			{"space is text", "2 mm", 0, false, "2 mm", ""},
			{"back and again", "2.2<enter>3.2<shift+tab><backspace>4<enter><enter>", 1, true, "2.4", "3.2"},
			{"a change after the end opens it again", "2.2<enter>3.2<enter>5", 1, false, "2.2", "3.25"},
			{"a key after the end is no second answer", "2.2<enter>3.2<enter><left>", 1, false, "2.2", "3.2"},
		} {
			l := New(80, twoLengths())
			press(t, l, c.keys)
			t.Log(c.name)
			want(t, l, c.at, c.done, map[string]string{"plate": c.plate, "kerf": c.kerf})
		}
		time.Sleep(2 * time.Second)
	})
}

// TestBurst: keys that arrive in one read are runs of letters and enters.
func TestBurst(t *testing.T) {
	l := New(80, twoLengths())
	burst(l, "20")
	press(t, l, "<enter>")
	burst(l, "8")
	press(t, l, "<enter>")
	want(t, l, 1, true, map[string]string{"plate": "20", "kerf": "8"})
}

func TestPaste(t *testing.T) {
	page := strings.Repeat("a line of a page\n", 40)
	for _, c := range []struct {
		name, text, value, err string
	}{
		{"lines become spaces", "119.98\n119.99", "119.98 119.99", ""},
		{"windows lines become spaces", "119.98\r\n119.99", "119.98 119.99", ""},
		{"enter in a paste is text", "2.2\r3.2\r", "2.2 3.2 ", ""},
		{"a page", page, strings.ReplaceAll(page, "\n", " "), ""},
		{"too much", strings.Repeat("9", MaxText+1), "", "2001 characters are too many"},
		{"as much as fits", strings.Repeat("9", MaxText), strings.Repeat("9", MaxText), ""},
		{"turned writing", "a\u202eb", "", "U+202E"},
		{"an escape sequence", "\x1b[31mred", "", "U+001B"},
		{"forty digits", strings.Repeat("1234567890", 4), strings.Repeat("1234567890", 4), ""},
		{"wide letters", strings.Repeat("刃", 100), strings.Repeat("刃", 100), ""},
	} {
		l := New(60, twoLengths())
		paste(l, c.text)
		got := strings.Join(strings.Fields(l.Values()["plate"]), " ")
		if got != strings.Join(strings.Fields(c.value), " ") {
			t.Errorf("%s: %q, want %q", c.name, got, c.value)
		}
		if err := wrong(l); (err != nil) != (c.err != "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %v, want %q", c.name, err, c.err)
		}
		want(t, l, 0, false, nil)
		for _, width := range []int{20, 33, 60, 110} {
			l.Resize(width)
			exact(t, l)
			if line := l.Input(); c.value != "" && !strings.Contains(line, strings.TrimSpace(c.value[len(c.value)-3:])) {
				t.Errorf("%s: the end of the text is not in sight at %d: %q", c.name, width, line)
			}
		}
		press(t, l, "<enter>")
		want(t, l, l.Focused(), false, nil)
	}
}

// TestUnmarkedPaste: a terminal that does not mark a paste sends its letters as runs
// and its line feeds as ctrl+j; two readings must not become one number.
func TestUnmarkedPaste(t *testing.T) {
	l := New(80, twoLengths())
	burst(l, "12")
	press(t, l, "<ctrl+j>")
	burst(l, "34")
	want(t, l, 0, false, map[string]string{"plate": "12 34"})
	l = New(80, twoLengths())
	press(t, l, "<ctrl+j>2.2")
	want(t, l, 0, false, map[string]string{"plate": "2.2"})
}

// TestSetError: a question about the answers is not answered by the second enter of
// a double enter, only after something was typed.
func TestSetError(t *testing.T) {
	l := New(80, twoLengths())
	press(t, l, "2.2<enter>9.9<enter>")
	want(t, l, 1, true, nil)
	l.SetError("kerf", errors.New("far from the predicted 3.2 mm: type it again if it is so"))
	want(t, l, 1, false, nil)
	press(t, l, "<enter><enter>")
	want(t, l, 1, false, map[string]string{"kerf": "9.9"})
	if wrong(l) == nil {
		t.Error("the question is gone")
	}
	press(t, l, "<backspace>9<enter>")
	want(t, l, 1, true, map[string]string{"kerf": "9.9"})

	l.SetError("plate", errors.New("first"))
	l.SetError("kerf", errors.New("second"))
	want(t, l, 0, false, nil)
	if wrong(l).Error() != "first" {
		t.Errorf("message %v", wrong(l))
	}
	l.SetError("no such field", errors.New("lost"))
	if wrong(l).Error() != "lost" {
		t.Errorf("message %v", wrong(l))
	}
	l.SetError("plate", nil)
	if wrong(l) != nil && l.Focused() == 0 {
		t.Errorf("message %v", wrong(l))
	}
}

// TestSet: a reading taken for the user stands in its field as if typed; a gate takes
// none, and what was wrong is gone.
func TestSet(t *testing.T) {
	l := New(80, append(twoLengths(), gateSpecs()[1]))
	press(t, l, "abc<enter>")
	if l.Error("plate") == nil || l.Error("kerf") != nil || l.Error("no such field") != nil {
		t.Errorf("messages %v, %v", l.Error("plate"), l.Error("kerf"))
	}
	l.Set("plate", "2.201 2.203")
	l.Set("word", "COPPER")
	want(t, l, 0, false, map[string]string{"plate": "2.201 2.203", "word": ""})
	if l.Error("plate") != nil || l.Error("word") != nil {
		t.Errorf("messages %v, %v", l.Error("plate"), l.Error("word"))
	}
	press(t, l, " 2.2")
	want(t, l, 0, false, map[string]string{"plate": "2.201 2.203 2.2"})
	l.Set("kerf", "3\u202e2")
	want(t, l, 0, false, map[string]string{"kerf": ""})
	if l.Error("kerf") == nil {
		t.Error("an invisible character is taken without a word")
	}
}

func TestNoFields(t *testing.T) {
	l := New(80, nil)
	press(t, l, "x<tab>")
	if l.Done() || l.Input() != "" {
		t.Error("done without enter")
	}
	press(t, l, "<enter>")
	want(t, l, 0, true, nil)
}

func TestStartTexts(t *testing.T) {
	specs := twoLengths()
	specs[0].Value, specs[1].Value = "2.20", "3\u202e2"
	l := New(80, specs)
	want(t, l, 0, false, map[string]string{"plate": "2.20", "kerf": ""})
	press(t, l, "<enter>")
	if err := wrong(l); l.Focused() != 1 || err == nil || !strings.Contains(err.Error(), "U+202E") {
		t.Errorf("focus %d, message %v", l.Focused(), err)
	}
}

// TestDefault: the first letter or figure replaces what stands there from outside; what
// was typed here is gone on with.
func TestDefault(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		type clip struct{ text string }
		for _, c := range []struct{ name, keys, plate string }{
			{"replaced", "3.2", "3.2"},
			{"a letter replaces too", "mm", "mm"},
			{"kept", "<enter>", "2.2mm 2.3mm"},
			{"added to", " 2.4", "2.2mm 2.3mm 2.4"},
			{"mended at its end", "<backspace><backspace><backspace>4", "2.2mm 2.4"},
			{"mended at its beginning", "<home>1", "12.2mm 2.3mm"},
			{"emptied", "<ctrl+u>", ""},
			{"a word taken off", "<ctrl+w>2.4", "2.2mm 2.4"},
			{"looked at elsewhere first", "<tab><shift+tab>3.2", "3.2"},
			{"gone on with", "3.<tab><shift+tab>2", "3.2"},
		} {
			specs := twoLengths()
			specs[0].Value, specs[0].Default, specs[0].Check = "2.2mm 2.3mm", true, nil
			l := New(80, specs)
			if !l.Fresh() {
				t.Errorf("%s: what stands there does not count as a default", c.name)
			}
			press(t, l, c.keys)
			if got := l.Values()["plate"]; got != c.plate {
				t.Errorf("%s: %q, want %q", c.name, got, c.plate)
			}
			exact(t, l)
		}

		specs := twoLengths()
		specs[0].Value, specs[0].Default = "2.2", true
		l := New(80, specs)
		paste(l, "3.2")
		want(t, l, 0, false, map[string]string{"plate": "3.2"})
		l = New(80, specs)
		l.Update(pasted{l.entries[0].input, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("3.2")}})
		want(t, l, 0, false, map[string]string{"plate": "3.2"})
		l = New(80, specs)
		l.Update(pasted{l.entries[0].input, clip{"nothing there"}})
		want(t, l, 0, false, map[string]string{"plate": "2.2"})
		l = New(80, specs)
		paste(l, "3\u202e2")
		want(t, l, 0, false, map[string]string{"plate": "2.2"}) // refused, so nothing is lost

		specs[0].Default = false
		l = New(80, specs)
		press(t, l, "5")
		want(t, l, 0, false, map[string]string{"plate": "2.25"})
		l.Set("plate", "2.201")
		press(t, l, "3")
		want(t, l, 0, false, map[string]string{"plate": "3"})
		l.Anew("plate")
		press(t, l, "4")
		want(t, l, 0, false, map[string]string{"plate": "4"})
	})
}

// TestResize keeps texts, focus and messages, at any width.
func TestResize(t *testing.T) {
	l := New(80, twoLengths())
	press(t, l, "2.2<enter>abc<enter>")
	for width := range 200 {
		l.Resize(width)
		want(t, l, 1, false, map[string]string{"plate": "2.2", "kerf": "abc"})
		if wrong(l) == nil {
			t.Fatal("the message is gone")
		}
		press(t, l, "d<backspace><enter>")
	}
}

// TestNarrowedAway: a long text is in sight again after its field was made narrower
// while another one was at work.
func TestNarrowedAway(t *testing.T) {
	l := New(110, twoLengths())
	paste(l, strings.Repeat("119.98 ", 12)+"120.01")
	press(t, l, "<tab>")
	l.Resize(60)
	press(t, l, "<shift+tab>")
	want(t, l, 0, false, nil)
	if line := l.Input(); !strings.Contains(line, "120.01_") {
		t.Errorf("the end is not in sight: %q", line)
	}
}

// TestCursor: where the terminal shows no attributes at all, the cursor is a
// character; where it shows them, reverse video. It blinks.
func TestCursor(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		lipgloss.SetColorProfile(termenv.Ascii)
		l := New(80, twoLengths())
		press(t, l, "2.2")
		if line := l.Input(); !strings.Contains(line, "2.2_") {
			t.Errorf("no cursor in %q", line)
		}
		lipgloss.SetColorProfile(termenv.ANSI)
		defer lipgloss.SetColorProfile(termenv.Ascii)
		l = New(80, twoLengths())
		l.Init()
		if line := l.Input(); !strings.Contains(line, "\x1b[7m") {
			t.Errorf("no cursor in %q", line)
		}
		_, cmd := l.Update(tea.KeyMsg{Type: tea.KeyTab})
		for i, shown := range []bool{false, true} {
			_, cmd = l.Update(cmd())
			if line := l.Input(); strings.Contains(line, "\x1b[7m") != shown {
				t.Errorf("blink %d: %q", i, line)
			}
		}
		time.Sleep(2 * time.Second)
	})
}
