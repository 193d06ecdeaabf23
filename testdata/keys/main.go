// Command keys counts what the program asks of a person: the keys and the words of a whole
// setup of the built-in shop, done in practice, and the keys for putting six blades and ten
// rings of a new saw on file.
//
//	go run ./testdata/keys
//	go run ./testdata/keys -words 40    # and the 40 texts of practice that take the longest
//
// Every letter of an answer is a key, and so is each enter; where an empty answer takes what
// is offered or what the simulated saw reads, it is the enter alone. What an instrument shows
// has to be typed at a real saw and is counted by itself. The run-down is timed by two
// enters, as with the keyboard beside the saw. Words are those of the full screen; words.go
// says how they are counted. It needs a system with pseudo-terminals.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

func main() {
	longest := flag.Int("words", 0, "how many texts of practice to list, from the one that takes the longest")
	flag.Parse()
	if err := run(*longest); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(longest int) error {
	dir, err := os.MkdirTemp("", "keys")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, err := terminal.Build(dir)
	if err != nil {
		return err
	}
	start := func(args ...string) (*terminal.Terminal, error) {
		c := exec.Command(program, append(args, "--plain", "--dir", dir)...)
		c.Dir = dir
		c.Env = []string{"HOME=" + dir, "TERM=xterm", "LANG=C.UTF-8"}
		return terminal.Start(c, 400, 60, false)
	}

	practice, err := start("practice", "--seed", "1")
	if err != nil {
		return err
	}
	defer practice.Close()
	whole := counted{hand: beside(walk.Hand{}.To)}
	if err := walk.Plain(practice, whole.answer, walk.Never); err != nil {
		return err
	}
	whole.print("A whole setup of the built-in shop, in practice")
	read, err := reading(exec.Command(program, "practice", "--seed", "1", "--light", "--dir", dir), dir)
	if err != nil {
		return err
	}
	read.print(longest)

	setup, err := start("setup", "six-blades")
	if err != nil {
		return err
	}
	defer setup.Close()
	rack := counted{hand: beside(newRack())}
	reached := func(q walk.Question) bool { return q.Label == "Reference blade" }
	if err := walk.Plain(setup, rack.answer, reached); !errors.Is(err, walk.ErrStop) {
		return errors.Join(errors.New("the rack was not put on file"), err)
	}
	rack.print("A new saw, up to its reference blade")
	rack.of("a blade", len(blades), regexp.MustCompile(`^(?:Blade: |Plate and kerf|Is the rack whole|The rack)`))
	rack.of("a ring", len(rings), regexp.MustCompile(`^Shim rings`))
	return nil
}

// beside is a hand with the keyboard in reach of the stop button: enter at stop, enter at
// standstill.
func beside(hand func(walk.Question) string) func(walk.Question) string {
	return func(q walk.Question) string {
		switch q.Label {
		case "Stop is pressed":
			return ""
		case "The blade stands still":
			time.Sleep(runDown)
			return ""
		}
		return hand(q)
	}
}

// runDown is longer than what the program takes for a key that was pressed twice.
const runDown = time.Second

// asked is a question that was answered: its keys, and those of them that are what an
// instrument shows.
type asked struct {
	place, label   string
	keys, readings int
}

// counted is a hand whose keys are counted.
type counted struct {
	hand func(walk.Question) string
	all  []asked
}

// instruments are the questions whose answer is read off one.
var instruments = regexp.MustCompile(`^(?:Plate readings|Kerf readings|What it measures|In front|At the rear|Front to rear|Widths? |Length of|Four gaps|Knife, seen in line|Settings and|Dial |Thickness of)`)

func (c *counted) answer(q walk.Question) string {
	text := c.hand(q)
	a := asked{place: q.Place, label: q.Label, keys: 1}
	if text == q.Kept {
		text = ""
	}
	if n := utf8.RuneCountInString(text); instruments.MatchString(q.Label) {
		a.readings = n
	} else {
		a.keys += n
	}
	c.all = append(c.all, a)
	return text
}

func (c *counted) print(title string) {
	fmt.Printf("\n%s\n\n| place | answers | keys | and readings |\n|---|---|---|---|\n", title)
	for i := 0; i < len(c.all); {
		end := i
		var here asked
		for ; end < len(c.all) && c.all[end].place == c.all[i].place; end++ {
			here.keys, here.readings = here.keys+c.all[end].keys, here.readings+c.all[end].readings
		}
		fmt.Printf("| %s | %d | %d | %d |\n", c.all[i].place, end-i, here.keys, here.readings)
		i = end
	}
	fmt.Printf("| all | %d | %d | %d |\n", len(c.all), c.total().keys, c.total().readings)
}

// total is all that was answered, as one.
func (c *counted) total() (sum asked) {
	for _, a := range c.all {
		sum.keys, sum.readings = sum.keys+a.keys, sum.readings+a.readings
	}
	return sum
}

// of tells what the questions of some places take for each of so many things.
func (c *counted) of(what string, n int, places *regexp.Regexp) {
	keys, readings := 0, 0
	for _, a := range c.all {
		if places.MatchString(a.place) {
			keys, readings = keys+a.keys, readings+a.readings
		}
	}
	fmt.Printf("\n%.1f keys %s, and %.1f of readings (%d of them)\n", float64(keys)/float64(n), what, float64(readings)/float64(n), n)
}

// A rack of our own invention, measured in millimetres.
var (
	blades = []struct{ name, plate, kerf string }{
		{"48-tooth general", "2.201 2.201 2.200", "3.204 3.204 3.205"},
		{"24-tooth rip", "2.201 2.200 2.201", "3.001 3.001 3.000"},
		{"80-tooth crosscut", "2.200 2.200 2.201", "2.801 2.800 2.801"},
		{"96-tooth laminate", "2.201 2.201 2.201", "3.150 3.150 3.149"},
		{"60-tooth plywood", "2.200 2.201 2.200", "3.100 3.101 3.100"},
		{"30-tooth glue line", "2.201 2.201 2.200", "3.050 3.050 3.051"},
	}
	rings = []struct{ printed, measured string }{
		{"0.10", "0.101"}, {"0.15", "0.151"}, {"0.20", "0.199"}, {"0.25", "0.250"}, {"0.30", "0.302"},
		{"0.40", "0.401"}, {"0.50", "0.499"}, {"0.60", "0.601"}, {"0.80", "0.802"}, {"1.00", "1.001"},
	}
)

// newRack answers as somebody does who sets up a saw with that rack.
func newRack() func(walk.Question) string {
	own := map[string]string{
		"How many blades does this saw carry": "6", "Name of the saw": "Bay 2 saw", "Units": "mm", "Rules of this shop": "en", "Blade tilts": "left",
		"Fence is, seen from the front": "right", "A brake that fires when the blade is touched": "no", "A scoring unit": "no", "Tilt and height driven by a motor": "no",
		"The values come from": "paper", "Stop is pressed": "still", "It is": "bench",
	}
	blade, ring := 0, 0
	var hand walk.Hand
	hand.Real = true
	return func(q walk.Question) string {
		name := strings.TrimPrefix(strings.TrimPrefix(q.Place, "Plate and kerf: "), "Blade: ")
		at := slices.IndexFunc(blades, func(b struct{ name, plate, kerf string }) bool { return b.name == name })
		switch {
		case strings.HasPrefix(q.Label, "The next blade"):
			if blade++; blade <= len(blades) {
				return blades[blade-1].name
			}
			return "whole"
		case strings.HasPrefix(q.Label, "The next ring"):
			if ring++; ring <= len(rings) {
				return rings[ring-1].printed
			}
			return "whole"
		case strings.HasPrefix(q.Label, "What it measures") && ring <= len(rings):
			return rings[ring-1].measured
		case q.Label == "Plate readings":
			return blades[at].plate
		case q.Label == "Kerf readings":
			return blades[at].kerf
		case q.Label == "Teeth":
			teeth, _, _ := strings.Cut(name, "-")
			return teeth
		}
		if text, ok := own[q.Label]; ok {
			return text
		}
		if q.Kept != "" && q.Refused == "" {
			return q.Kept
		}
		if strings.Contains(q.Hint, "; empty: ") || strings.HasSuffix(q.Hint, "or empty") || strings.Contains(q.Label, "may stay empty") || strings.HasPrefix(q.Label, "Runout at the rim, if") || strings.HasPrefix(q.Label, "Plate beside") {
			return ""
		}
		return hand.To(q)
	}
}
