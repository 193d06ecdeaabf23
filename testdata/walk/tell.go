package walk

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/testdata/procedure"
	"example.com/sawdatum/testdata/terminal"
)

// Teller tells a story to the built program in a terminal.
type Teller struct {
	Face   func(*terminal.Terminal) Face
	Begin  func(blade string) *terminal.Terminal // a run of the program: for one blade only, or for all
	Labels map[string]string                     // what the blades are called
	Path   string                                // of the profile

	terminal *terminal.Terminal
	face     Face
	now      Question
	asked    []string // the questions of the present place
}

// Hand is what somebody answers who finds everything in order at the saw of the
// stories, besides the words and what stands on the screen.
var Hand = Answers{
	"Run-down, seconds": "1", "Thread past the nut": "9", "Feeler gaps, four": "0 0.05 0 0.05", "Knife to the tooth tips": "5",
	"Tooth at the front to the slot": "95.00", "Same tooth at the rear to the slot": "95.02",
	"Tooth at the front to the fence": "120.00", "Same tooth at the rear to the fence": "120.03", "Front to rear, the tooth's way": "200",
	"Width at the leading end": "120.02", "Width at the trailing end": "120.03",
	"Settings and readings": "60=60.12 120=120.11", "Last rip at 120 mm, reads": "120.01",
	"Widths of the reference half": "120.00 120.01 120.00", "Readings of this blade's half": "120.00 120.01 120.00",
}

// hurried is what the program says of a run-down that was typed sooner than it can have
// gone by.
const hurried = "after this place was shown"

// Tell tells the lines one by one. The error is what the program did otherwise.
func (t *Teller) Tell(story procedure.Story) error {
	defer func() {
		if t.terminal != nil {
			t.terminal.Close()
		}
	}()
	if err := t.begin(""); err != nil {
		return err
	}
	for _, line := range story.Lines {
		if err := t.tell(line); err != nil {
			return fmt.Errorf("%s\n%w", line.Where, err)
		}
	}
	return nil
}

// begin runs the program; one that still runs is killed as by a power cut.
func (t *Teller) begin(blade string) error {
	if t.terminal != nil {
		t.terminal.Close()
	}
	t.terminal = t.Begin(blade)
	t.face = t.Face(t.terminal)
	return t.next()
}

func (t *Teller) next() error {
	q, err := t.face.Next()
	if err != nil {
		return fmt.Errorf("%w, after %q; the screen:\n%s", err, t.now.Place, t.terminal.Screen())
	}
	if t.now = q; q.Opened {
		t.asked = nil
	}
	if !slices.Contains(t.asked, q.Label) {
		t.asked = append(t.asked, q.Label)
	}
	return nil
}

func (t *Teller) tell(line procedure.Line) error {
	word, of, _ := strings.Cut(line.What, " ")
	var err error
	switch {
	case line.Check:
		return t.say(line.What, line.Rest)
	case line.What == "work on":
		return t.workOn(line.Leads)
	case line.What == "new run":
		err = t.begin("")
	case word == "run":
		err = t.begin(strings.TrimPrefix(of, "for "))
	case slices.Contains([]string{"back", "forward", "idle", "suspend"}, line.What):
		err = errors.Join(t.face.Do(Event{Kind: EventKind(line.What)}), t.next())
	case word == "begin":
		work := otherWork[of]
		if work == "" {
			work, err = titleOf(of, t.Labels)
		}
		err = errors.Join(err, t.face.Do(Event{OtherWork, work}), t.next())
	default:
		err = errors.Join(t.at(line.What), t.answer(line))
	}
	switch {
	case err != nil:
		return err
	case line.Refused == "":
		return t.at(line.Leads)
	case !strings.Contains(t.now.Refused, line.Refused):
		return fmt.Errorf("was refused otherwise: %s", t.now.Refused)
	}
	return nil
}

// at holds the place where the work stands against the story.
func (t *Teller) at(place string) error {
	title, err := titleOf(place, t.Labels)
	if err == nil && t.now.Place != title {
		err = fmt.Errorf("the work stands at %q, not at %q: %s", t.now.Place, title, t.now.Said)
	}
	return err
}

// answer answers the questions of the place until another comes up, or until an answer
// is refused.
func (t *Teller) answer(line procedure.Line) error {
	texts, done := line.Answers()
	doubted := strings.Contains(t.now.Refused, "type the same again") // the plain face asks only for what is doubted
	for tries := 0; ; tries++ {
		i := slices.Index(t.asked, t.now.Label)
		text := ""
		switch {
		case done:
			text = Hand.To(t.now)
		case i >= len(texts):
			return fmt.Errorf("has %d answers; then %q is asked", len(texts), t.now.Label)
		case texts[i] == "WORD":
			text = t.now.word()
		case texts[i] != "-":
			text = texts[i]
		}
		if err := errors.Join(t.face.Answer(text), t.next()); err != nil {
			return err
		}
		switch refused := t.now.Refused != ""; {
		case t.now.Opened && line.Refused != "":
			return fmt.Errorf("was taken and leads to %q", t.now.Place)
		case t.now.Opened && !done && !doubted && i+1 < len(texts):
			return fmt.Errorf("has %d answers, and only %d are asked for", len(texts), i+1)
		case refused && line.Refused == "" && strings.Contains(t.now.Refused, hurried) && tries < 30:
			continue // nobody waits for the run-down of a saw that is not there
		case refused && line.Refused == "":
			return fmt.Errorf("was refused: %s", t.now.Refused)
		case t.now.Opened || refused:
			return nil
		case tries > 30:
			return fmt.Errorf("no way on from %q", t.now.Label)
		}
	}
}

// workOn answers as an honest hand does until the place is reached.
func (t *Teller) workOn(to string) error {
	for range 60 {
		if t.at(to) == nil {
			return nil
		}
		if err := t.answer(procedure.Line{Rest: "done"}); err != nil {
			return fmt.Errorf("at %q: %w", t.now.Place, err)
		}
	}
	return t.at(to)
}

// say holds what the program says against the story.
func (t *Teller) say(what, want string) error {
	switch what {
	case "power":
		if !strings.HasPrefix(t.now.Saw, "POWER "+want) {
			return fmt.Errorf("but the screen says: %s", t.now.Saw)
		}
	case "says":
		said := t.now.Said
		if full, ok := t.face.(*Full); ok {
			more, err := full.Why()
			if err != nil {
				return err
			}
			said += more
		}
		// a sentence begins with a capital letter, whatever it was before
		if !strings.Contains(strings.ToLower(said), strings.ToLower(want)) {
			return fmt.Errorf("but the screen says: %s", said)
		}
	default:
		return t.onFile(what, want)
	}
	return nil
}
