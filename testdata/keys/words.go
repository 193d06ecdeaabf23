package main

import (
	"cmp"
	"fmt"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

// What a newcomer needs. Silent reading of prose in English takes a minute for 238 words in
// the middle (Brysbaert, Journal of Memory and Language 109, 2019, from memory); here less,
// as somebody reads who stands at a saw and has to do it.
const (
	wordsAMinute  = 200
	keysASecond   = 2
	countedStop   = 3   // seconds that practice asks to count while nothing runs down
	secondsAtGate = 0.3 // that a gate hears no key
)

// text is a piece of a row of the screen, its figures left out: what stands between two gaps.
type text struct {
	of    string
	words int
	where string // the place at which it was first shown
	shown int    // how often it came anew: the screen before did not have it
}

// screens counts the words of a walk, screen after screen, and the keys that it takes there. A text
// is read when it is shown for the first time; one that comes again, behind a screen without it, is
// known. A text that differs in more than figures, such as by a blade's name, is another. What
// somebody types is not read.
type screens struct {
	all           []*text
	by            map[string]*text
	before        map[string]bool
	keys          int
	gates, stands int
}

var (
	gaps    = regexp.MustCompile(` {2,}|[^ -~]+`)
	figures = regexp.MustCompile(`\d+(?:[.:]\d+)*`)
	echo    = regexp.MustCompile(`^ +> .*?(?:  |$)`)
)

func (s *screens) look(where, screen string) {
	now := map[string]bool{}
	for row := range strings.Lines(screen) {
		row = echo.ReplaceAllString(strings.TrimRight(row, "\n"), "")
		for _, of := range gaps.Split(strings.TrimSpace(row), -1) {
			of = strings.TrimSpace(figures.ReplaceAllString(of, "#"))
			words := len(slices.DeleteFunc(strings.Fields(of), func(w string) bool { return strings.IndexFunc(w, unicode.IsLetter) < 0 }))
			if words == 0 || now[of] {
				continue
			}
			now[of] = true
			if s.by[of] == nil {
				s.by[of] = &text{of: of, words: words, where: where}
				s.all = append(s.all, s.by[of])
			}
			if !s.before[of] {
				s.by[of].shown++
			}
		}
	}
	s.before = now
}

// reading walks through practice on the full screen and looks at each: the tour, a question as
// it is asked, and as it is answered.
func reading(c *exec.Cmd, dir string) (*screens, error) {
	c.Dir = dir
	c.Env = []string{"HOME=" + dir, "TERM=xterm-256color", "LANG=C.UTF-8"}
	t, err := terminal.Start(c, 80, 24, false)
	if err != nil {
		return nil, err
	}
	defer t.Close()
	s := &screens{by: map[string]*text{}}
	at := ""
	full := &walk.Full{Terminal: t}
	look := func() error { s.look(at, t.Screen()); return nil }
	full.Typed = look
	full.Tour = func() error { s.keys++; s.look("tour", t.Screen()); return nil }
	hand := beside(walk.Hand{}.To)
	return s, walk.Lead(full, func(q walk.Question) string {
		if at = q.Place; q.Opened && slices.Contains([]string{"Stop the saw", "Isolate the saw", "First start, without stock"}, q.Place) {
			s.gates++
		}
		if q.Label == "The blade stands still" {
			s.stands++
		}
		look()
		text := hand(q)
		if text == q.Kept {
			text = ""
		}
		s.keys += 1 + len(text)
		return text
	}, walk.Never)
}

// takes is how long practice takes, in minutes: to read each text once, to type, and to wait.
func (s *screens) takes() (read, typing, waits float64) {
	words := 0
	for _, t := range s.all {
		words += t.words
	}
	return float64(words) / wordsAMinute, float64(s.keys) / keysASecond / 60, (float64(s.stands)*countedStop + float64(s.gates)*secondsAtGate) / 60
}

func (s *screens) print(longest int) {
	first, again := 0, 0
	places := map[string]int{}
	var order []string
	for _, t := range s.all {
		first += t.words
		again += t.words * (t.shown - 1)
		if places[t.where] == 0 {
			order = append(order, t.where)
		}
		places[t.where] += t.words
	}
	fmt.Printf("\nIts words at 80x24, each text where it is shown first\n\n| place | words |\n|---|---|\n")
	for _, p := range order {
		fmt.Printf("| %s | %d |\n", p, places[p])
	}
	read, typing, waits := s.takes()
	fmt.Printf("| all | %d |\n\n%d words come again, behind a screen without them.\n", first, again)
	fmt.Printf("\n%.1f minutes: %d words %.1f, %d keys %.1f, waits %.1f (%d run-downs, %d gates); %.1f with all that comes again\n",
		typing+read+waits, first, read, s.keys, typing, waits, s.stands, s.gates, typing+read+waits+float64(again)/wordsAMinute)
	slices.SortStableFunc(s.all, func(a, b *text) int { return cmp.Compare(b.words*b.shown, a.words*a.shown) })
	if longest = min(longest, len(s.all)); longest > 0 {
		fmt.Printf("\n| words | times shown | text | first at |\n|---|---|---|---|\n")
	}
	for _, t := range s.all[:longest] {
		fmt.Printf("| %d | %d | %s | %s |\n", t.words, t.shown, t.of, t.where)
	}
}
