package plain

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
)

// Settle asks whose value counts, one question a value. Nothing is chosen by an empty
// line. theirs tells for each value whether it is to be theirs; the error is one line,
// and says that nothing was chosen: the work was left, or the input ended.
func Settle(in io.Reader, out io.Writer, values []wizard.Value) (theirs []bool, err error) {
	p := plain{in: bufio.NewReader(in), out: out}
	p.say("Nothing is written before the last answer. back returns to the value before; quit leaves, and changes nothing.")
	for len(theirs) < len(values) {
		v := values[len(theirs)]
		p.say("")
		p.say("Question %d of %d. %s (type mine or theirs).", len(theirs)+1, len(values), model.Printable(v.Path))
		p.say("Mine: %s", model.Printable(v.Mine))
		p.say("Theirs: %s", model.Printable(v.Theirs))
		if theirs, err = p.settle(theirs); err != nil {
			return nil, err
		}
	}
	return theirs, nil
}

// Agree tells something and asks whether to go on. The error is one line: the input
// ended.
func Agree(in io.Reader, out io.Writer, told, question string) (bool, error) {
	p := plain{in: bufio.NewReader(in), out: out}
	p.say("%s", model.Printable(told))
	for {
		p.say("%s (type yes or no)?", question)
		fmt.Fprint(p.out, "> ")
		answer, err := p.line()
		if err != nil {
			return false, err
		}
		switch answer = strings.ToLower(answer); answer {
		case "yes", "no":
			return answer == "yes", nil
		}
		p.say("%q is neither: type yes or no.", model.Printable(model.Clip(answer)))
	}
}

// settle takes one answer behind those before it, or takes the last of those away.
func (p *plain) settle(theirs []bool) ([]bool, error) {
	for {
		fmt.Fprint(p.out, "> ")
		answer, err := p.line()
		if err != nil {
			return nil, err
		}
		switch answer = strings.TrimPrefix(strings.ToLower(answer), "/"); {
		case answer == "mine" || answer == "theirs":
			return append(theirs, answer == "theirs"), nil
		case answer == "quit":
			return nil, errLeft
		case answer == "back" && len(theirs) > 0:
			return theirs[:len(theirs)-1], nil
		case answer == "back":
			p.say("This is the first: type mine or theirs; quit leaves.")
		case answer == "":
			p.say("Nothing typed: type mine or theirs; back or quit.")
		default:
			p.say("%q is neither: type mine or theirs; back or quit.", model.Printable(model.Clip(answer)))
		}
	}
}
