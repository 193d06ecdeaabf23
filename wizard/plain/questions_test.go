package plain

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"example.com/sawdatum/wizard"
)

func TestSettleTakesWordsOnly(t *testing.T) {
	var out bytes.Buffer
	values := []wizard.Value{{Path: "tolerance", Mine: "0.05 mm", Theirs: "0.08 mm"}, {Path: "saw.label", Mine: "a\x1b[2J", Theirs: "b"}}
	theirs, err := Settle(strings.NewReader("\n1\nt\nTHEIRS\n mine \n"), &out, values)
	if err != nil || fmt.Sprint(theirs) != "[true false]" || strings.Contains(out.String(), "\x1b") {
		t.Errorf("%v, %v\n%s", theirs, err, out.String())
	}
	for in, want := range map[string]string{"mine\nback\ntheirs\n/back\nback\ntheirs\nmine\n": "[true false]", "BACK\nmine\ntheirs\n": "[false true]"} {
		if theirs, err := Settle(strings.NewReader(in), &out, values); err != nil || fmt.Sprint(theirs) != want {
			t.Errorf("%q: %v, %v", in, theirs, err)
		}
	}
	if !strings.Contains(out.String(), "This is the first: type mine or theirs") {
		t.Errorf("%s", out.String())
	}
	for in, want := range map[string]error{"mine\nquit\n": errLeft, "mine\n/QUIT\n": errLeft, "mine\n": errEnded, "mine\nmine": errEnded, "": errEnded} {
		if theirs, err := Settle(strings.NewReader(in), &out, values); err != want || theirs != nil {
			t.Errorf("%q: %v, %v", in, theirs, err)
		}
	}
}
