package walk

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// Resized walks through practice, and at every place, in the midst of a text in its last
// field, gives the window one size after the other. Text and focus have to stay, and
// every size has to show what the plain face says there. Too small a window says so, takes
// no key, and tells that it took none: looked at once for each title. It reports at how
// many places.
func Resized(f *Full, visits []Visit, answer func(Question) string, sizes [][2]int) (places int, err error) {
	asked := map[string]int{} // since the place was shown
	before := map[string]bool{}
	for at := -1; ; {
		q, err := f.Next()
		if errors.Is(err, io.EOF) {
			return places, nil
		}
		if err != nil {
			return places, err
		}
		if q.Opened {
			at++
			clear(asked)
		}
		if asked[q.Label]++; asked[q.Label] > 10 { // the closing place asks again after each export
			return places, noWay(q)
		}
		if at >= len(visits) || !whole(q.Place, visits[at].Title) {
			return places, fmt.Errorf("place %d is %q, and the plain face has another there", at+1, q.Place)
		}
		text, last := answer(q), visits[at].Fields[len(visits[at].Fields)-1]
		if q.Label == last.Label && q.Refused == "" && places <= at {
			places++
			fits := slices.DeleteFunc(slices.Clone(sizes), func(s [2]int) bool { return before[q.Place] && tooSmall(s) })
			before[q.Place] = true
			if text, err = f.resized(visits[at], q, text, fits); err != nil {
				return places, fmt.Errorf("at %q: %w", q.Place, err)
			}
		}
		if err := f.Answer(text); err != nil {
			return places, err
		}
	}
}

// resized types half a text and looks at it in every size, and returns what is to be typed
// now. An empty text keeps what stands in the field; where nothing stands there the
// simulated saw reads, and what was typed is taken out again.
func (f *Full) resized(v Visit, q Question, text string, sizes [][2]int) (string, error) {
	_, half := read(f.Terminal.Screen()).question()
	kept := half
	if text != "" || half == "" {
		if half, kept = text[:(len(text)+1)/2], text; half == "" {
			half = "1"
		}
		f.heard()
		if err := f.Type(emptyLine, half); err != nil {
			return "", err
		}
	}
	small := false
	for _, size := range sizes {
		if err := f.Terminal.Resize(size[0], size[1]); err != nil {
			return "", err
		}
		if tooSmall(size) {
			small = true
			if err := errors.Join(f.saysSo(size[0], size[1]), f.Terminal.Type("9")); err != nil {
				return "", err
			}
			time.Sleep(Pause / 5)
			if err := errors.Join(f.Terminal.Resize(size[0]-1, size[1]), f.saysSo(size[0]-1, size[1])); err != nil {
				return "", err // by now the key was taken, or never will be
			}
			continue
		}
		var missing []string
		err := f.Terminal.Wait("whole screen with the focus and the text that were there", patience, func(s string) bool {
			p := read(s)
			now, typed := p.question()
			if missing = v.missing(p, size[1] >= roomyHeight); small {
				return now.Label == q.Label && strings.Contains(now.Refused, notTaken) && len(missing) == 0
			}
			return now.Label == q.Label && typed == half && len(missing) == 0
		})
		if err != nil {
			return "", fmt.Errorf("%dx%d, %q typed at %q, missing %s: %w", size[0], size[1], half, q.Label, strings.Join(missing, ", "), err)
		}
	}
	if small { // the enter that it asks for, and all of it anew
		err := f.Terminal.Type("\r")
		time.Sleep(Pause / 5)
		return kept, errors.Join(err, f.Terminal.Type(emptyLine))
	}
	return text, nil
}

// notTaken is said where keys were typed that nobody could see.
const notTaken = "none was taken: press enter, then type"

func (f *Full) saysSo(width, height int) error {
	sentence := fmt.Sprintf(" This window is %d x %d. Sawdatum needs 60 x 20: make it larger. Nothing typed is lost.", width, height)
	return f.Terminal.Wait("sentence about the size", patience, func(s string) bool { return strings.Contains(flat(s), sentence) })
}

// The smallest window that shows a place.
const leastWidth, leastHeight = 60, 20

func tooSmall(size [2]int) bool { return size[0] < leastWidth || size[1] < leastHeight }
