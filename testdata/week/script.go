package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

//go:embed bay-one.yaml
var bayOne []byte

const patience = 30 * time.Second

// week is five days of two shifts at two saws.
type week struct {
	*shop
	early, late person
	one, two    *saw
	err         error // the first thing that was not as it should be
}

func (w *week) play() error {
	w.begin()

	w.day("Monday, early. Both saws were set up on the second of March; cards hang on the wall.")
	w.paper(w.early, "bay-two")
	w.paper(w.early, "bay-one")
	w.swap(w.early, w.two, "rip-24")

	w.day("Monday, late. The other shift takes the copies over for the first time.")
	w.takes(w.late, w.early, "bay-one", 0)
	w.takes(w.late, w.early, "bay-two", 0)
	w.swap(w.late, w.two, "general-48")

	w.day("Tuesday, early. What is due is proved with the swap, which offers it.")
	w.takes(w.early, w.late, "bay-two", 0)
	w.proves(w.early, w.two, "crosscut-80")

	w.day("Tuesday, late.")
	w.takes(w.late, w.early, "bay-two", 0)
	w.swap(w.late, w.one, "crosscut-80")

	w.day("Wednesday, early. The rip is back from sharpening. Nobody takes copies over today.")
	w.sharpened(w.early, w.two, "rip-24")

	w.day("Wednesday, late. Of what was done this morning this copy knows nothing: the saw tells.")
	w.swap(w.late, w.two, "laminate-96")

	w.day("Thursday, early. Both have written: the copies are brought together. A paper is stale, a ring is lost.")
	w.takes(w.early, w.late, "bay-two", 0)
	w.takes(w.early, w.late, "bay-one", 0)
	w.begins(w.early, "STALE: bay-two-card.txt")
	w.stale(w.early, "bay-two")
	w.lost(w.early, w.two, "0.50 mm")
	w.swap(w.early, w.one, "rip-24")
	w.do(func() error { _, err := w.run(w.early, 0, "export", "bay-two", "--as", "handover"); return err })

	w.day("Thursday, late. The heads of the two copies differ by the ring: the program asks.")
	w.takes(w.late, w.early, "bay-two", 1)
	w.takes(w.late, w.early, "bay-one", 0)
	w.swap(w.late, w.two, "rip-24")

	w.day("Friday, early.")
	w.takes(w.early, w.late, "bay-two", 0)
	w.swap(w.early, w.two, "general-48", "--prove")

	w.day("Friday, late.")
	w.swap(w.late, w.one, "combo-50")

	w.day("The end of the week: each takes over what the other has.")
	for _, name := range []string{"bay-one", "bay-two"} {
		w.takes(w.early, w.late, name, 0)
		w.takes(w.late, w.early, name, 0)
		w.same(name)
	}
	w.do(func() error { _, err := w.run(w.early, 0, "shop"); return err })
	w.counted()
	return w.err
}

// counted tells what each run asked for, and holds the swaps against the goal: 16 answers and under 80 keys where
// nothing is ripped, nothing that was typed is questioned, and no proof offered.
func (w *week) counted() {
	w.do(func() error {
		swaps := 0
		w.say("\n%-4s%-12s%8s%6s%14s%12s  %s", "who", "face", "answers", "keys", "for the offer", "typed twice", "command")
		for _, t := range w.tallies {
			w.say("%-4s%-12s%8d%6d%14d%12d  sawdatum %s", t.who, t.face, t.answers, t.keys, t.offer, t.twice, t.command)
			if !strings.HasPrefix(t.command, "swap ") {
				continue
			}
			swaps++
			answers, keys := t.answers-t.again-t.offered, t.keys-t.twice-t.offer
			if !t.proof && (answers > 16 || keys >= 80) {
				return fmt.Errorf("%s: %d answers and %d keys, where 16 and fewer than 80 are the goal", t.command, answers, keys)
			}
		}
		if swaps != 9 {
			return fmt.Errorf("%d swaps, not 9", swaps)
		}
		return nil
	})
}

// do does something unless something before it went wrong.
func (w *week) do(what func() error) {
	if w.err == nil {
		w.err = what()
	}
}

func (w *week) day(what string) {
	w.do(func() error { w.say("\n== %s", what); return nil })
}

// begin has both saws set up in practice by the early shift, and names them.
func (w *week) begin() {
	w.early = person{initials: "KB", folder: filepath.Join(w.folder, "early"),
		habits: map[string]string{"Isolated how": "p", "The fence is": "moved"}}
	w.late = person{initials: "MO", folder: filepath.Join(w.folder, "late"), plain: true, habits: map[string]string{"Isolated how": "l", "The fence is": "moved"}}
	for _, p := range []person{w.early, w.late} { // the keys are within reach of the stop
		p.habits["Stop is pressed"], p.habits["The blade stands still"], p.habits["With a proof"] = "", "", "swap"
	}
	w.do(func() error {
		for _, p := range []person{w.early, w.late} {
			if err := os.Mkdir(p.folder, 0o755); err != nil {
				return err
			}
		}
		p, findings := text.Parse("bay-one.yaml", bayOne)
		if len(findings) > 0 {
			return findings
		}
		if err := os.WriteFile(filepath.Join(w.folder, "bay-one.yaml"), bayOne, 0o600); err != nil {
			return err
		}
		var err error
		if w.one, err = w.setUp("bay-one", p, 2, filepath.Join(w.folder, "bay-one.yaml")); err == nil {
			w.two, err = w.setUp("bay-two", profiles.Demo(), 1)
		}
		return err
	})
}

// setUp has a saw set up in practice, and calls its profile by its name. The saw is left with
// the reference on.
func (w *week) setUp(name string, p model.Profile, seed uint64, profile ...string) (*saw, error) {
	path := filepath.Join(w.early.folder, name+".yaml")
	c := exec.Command(w.binary, append([]string{"practice", "--plain", "--seed", fmt.Sprint(seed), "--keep", path}, profile...)...)
	c.Dir, c.Env = w.early.folder, w.environment(w.early)
	t, err := terminal.Start(c, 200, 60, false)
	if err != nil {
		return nil, err
	}
	defer t.Close()
	if err := walk.Plain(t, walk.Hand{}.To, walk.Never); err != nil {
		return nil, err
	}
	if status, err := t.Exit(patience); err != nil || status != 0 {
		return nil, fmt.Errorf("setting %s up: status %d, %v\n%s", name, status, err, tail(t.Output()))
	}
	content, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	for _, pair := range [][2]string{{"name: practice-bay\n", "name: bay-two\n"}, {"name: practice-bay-one\n", "name: bay-one\n"}, {"label: Practice bay saw\n", "label: Bay 2 saw\n"}} {
		content = bytes.Replace(content, []byte(pair[0]), []byte(pair[1]), 1)
	}
	if err := os.WriteFile(path, content, 0o600); err != nil {
		return nil, err
	}
	f, err := profiles.Read(path)
	s := newSaw(p, seed)
	s.on.Blade = f.Profile.Reference
	return s, err
}

// nameOf is the profile of a saw.
func (w *week) nameOf(s *saw) string {
	if s == w.one {
		return "bay-one"
	}
	return "bay-two"
}

func (w *week) swap(p person, s *saw, blade string, more ...string) {
	w.do(func() error {
		_, err := w.at(p, s, 0, nil, append([]string{"swap", w.nameOf(s), blade}, more...)...)
		return err
	})
}

// proves takes the proof that a swap offers.
func (w *week) proves(p person, s *saw, blade string) {
	w.do(func() error {
		_, err := w.at(p, s, 0, map[string]string{"With a proof": "prove"}, "swap", w.nameOf(s), blade)
		return err
	})
}

// sharpened has a blade ground, measured and compared again.
func (w *week) sharpened(p person, s *saw, blade string) {
	w.do(func() error {
		s.Saw = s.Sharpened(blade)
		_, err := w.at(p, s, 0, map[string]string{"This blade is here for": "sharpened", "It is": "bench"}, "blade", w.nameOf(s), blade)
		return err
	})
}

// lost has a ring of a kit lost: it is said under other work.
func (w *week) lost(p person, s *saw, ring string) {
	w.do(func() error {
		_, err := w.at(p, s, 0, map[string]string{"Which ring": ring, "work": "ring-lost"}, "setup", w.nameOf(s))
		return err
	})
}

// begins looks at the start screen, and wants a text on it.
func (w *week) begins(p person, text string) {
	w.do(func() error {
		w.say("\n%s  sawdatum", p.initials)
		c := exec.Command(w.binary)
		c.Dir, c.Env = p.folder, w.environment(p)
		t, err := terminal.Start(c, 80, 24, false)
		if err != nil {
			return err
		}
		defer t.Close()
		err = t.WaitFor(text, patience)
		w.say("%s", indented(t.Screen()))
		return err
	})
}

// paper writes the card of a saw for the wall.
func (w *week) paper(p person, name string) {
	w.do(func() error {
		_, err := w.run(p, 0, "export", name, "--as", "card", "-o", filepath.Join(p.folder, name+"-card.txt"))
		return err
	})
}

// stale has somebody find a card that no longer tells what the profile tells, and write it
// anew.
func (w *week) stale(p person, name string) {
	w.do(func() error {
		out, err := w.run(p, 1, "check", name)
		if err == nil && !strings.Contains(out, name+"-card.txt") {
			err = fmt.Errorf("check does not name the card: %s", out)
		}
		return err
	})
	w.paper(p, name)
	w.do(func() error { _, err := w.run(p, 0, "check", name); return err })
}

// takes takes over the other shift's copy. Where their heads differ in so many values, each
// is asked, and theirs counts.
func (w *week) takes(p, from person, name string, differ int) {
	args := []string{"import", filepath.Join(from.folder, name+".yaml"), "--into", name}
	if differ == 0 {
		w.do(func() error { _, err := w.run(p, 0, args...); return err })
		return
	}
	w.do(func() error {
		w.say("\n%s  sawdatum %s", p.initials, strings.Join(args, " "))
		c := exec.Command(w.binary, args...)
		c.Dir, c.Env = p.folder, w.environment(p)
		t, err := terminal.Start(c, 200, 60, false)
		if err != nil {
			return err
		}
		defer t.Close()
		for i := range differ {
			if err := t.WaitFor(fmt.Sprintf("Question %d of %d.", i+1, differ), patience); err != nil {
				return err
			}
			if err := t.Type("theirs\n"); err != nil {
				return err
			}
		}
		status, err := t.Exit(patience)
		w.say("%s", indented(t.Output()))
		if err == nil && status != 0 {
			err = fmt.Errorf("import: status %d", status)
		}
		return err
	})
}

// same holds the two copies of a profile against each other, byte for byte.
func (w *week) same(name string) {
	w.do(func() error {
		var texts [2][]byte
		for i, p := range []person{w.early, w.late} {
			content, err := os.ReadFile(filepath.Join(p.folder, name+".yaml"))
			if err != nil {
				return err
			}
			texts[i] = content
		}
		if !bytes.Equal(texts[0], texts[1]) {
			return fmt.Errorf("%s: the two copies are not the same", name)
		}
		f, err := profiles.Read(filepath.Join(w.early.folder, name+".yaml"))
		if err != nil {
			return err
		}
		by := map[string]int{}
		for _, r := range f.Profile.Records {
			by[r.By]++
		}
		w.say("%s: the same file on both sides, %d bytes, %d records: %v", name, len(texts[0]), len(f.Profile.Records), by)
		return nil
	})
}
