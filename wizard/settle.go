package wizard

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"example.com/sawdatum/model"
)

// Value is one value of a profile that two copies of it do not agree on. A copy that
// lacks it says so in words.
type Value struct {
	Path   string // blades[rip-24].kerf
	Mine   string
	Theirs string
}

// Settle asks whose value counts, one question a value. Nothing is chosen by an empty
// line. theirs tells for each value whether it is to be theirs; the error is one line,
// and says that nothing was chosen: the work was left, or the input ended.
func Settle(in io.Reader, out io.Writer, values []Value) (theirs []bool, err error) {
	p := plain{in: bufio.NewReader(in), out: out}
	p.say("Nothing is written before the last answer. quit leaves, and changes nothing.")
	for i, v := range values {
		p.say("")
		p.say("Question %d of %d. %s (type mine or theirs).", i+1, len(values), printable(v.Path))
		p.say("Mine: %s", printable(v.Mine))
		p.say("Theirs: %s", printable(v.Theirs))
		for answer := ""; answer != "mine" && answer != "theirs"; {
			fmt.Fprint(out, "> ")
			if answer, err = p.line(); err != nil {
				return nil, err
			}
			switch answer = strings.ToLower(answer); answer {
			case "mine", "theirs":
				theirs = append(theirs, answer == "theirs")
			case "quit", "/quit":
				return nil, errLeft
			case "":
				p.say("Nothing typed: type mine or theirs; quit leaves.")
			default:
				p.say("%q is neither: type mine or theirs; quit leaves.", printable(model.Clip(answer)))
			}
		}
	}
	return theirs, nil
}
