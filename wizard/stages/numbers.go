package stages

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// standing is how the comparison of one blade stands, by the numbers.
type standing struct {
	stack            []string      // rings that it is compared with now, flange first
	strips           []model.Strip // with that stack, under the present datum
	verdict          model.Verdict // empty: not decided
	offset, expanded model.Length
	causes           []string
	next             []string // rings that may be tried after an OUT
	hasNext          bool
	apart            *model.Strip
	may              bool // a rip with it leaves the knife inside its kerf
	wantsStrip       bool
	wantsDatum       bool
	stuck            bool
}

func (s standing) out() bool  { return s.verdict == model.Out }
func (s standing) over() bool { return !s.wantsStrip && !s.wantsDatum && s.apart == nil }
func (s standing) mounting() string {
	if len(s.strips) == 0 {
		return ""
	}
	return s.strips[len(s.strips)-1].Mounting
}

func stand(c context, blade string) standing {
	row, _ := c.Plan.Blade(blade)
	s := standing{stack: row.Stack, may: true, strips: of(c, c.State.Lock, blade, row.Stack)}
	s.wantsStrip = len(s.strips) < bladeStrips
	return s
}

func verdictWords(c context, blade string) []reason     { return nil }
func closingWords(c context) []reason                   { return nil }
func closingDue(c context) bool                         { return false }
func stripFollows(c context, a answers) []reason        { return nil }
func stripFigure(c context, a answers) procedure.Figure { return procedure.Figure{} }
