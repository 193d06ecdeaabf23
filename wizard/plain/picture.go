package plain

import (
	"slices"
	"strings"

	"example.com/sawdatum/wizard/procedure"
)

// pictured are the sentences of a place's picture, as it is with what is typed.
func pictured(v procedure.View, typed procedure.Answers) []string {
	pic := v.Picture(typed)
	if pic == nil {
		return nil
	}
	return strings.SplitAfter(pic.Sentence(), ". ")
}

// redrawn says what a picture tells now and did not tell before; it returns what it tells now.
func (p *plain) redrawn(before, now []string) []string {
	said := func(sentence string) bool {
		return slices.ContainsFunc(before, func(b string) bool { return strings.TrimSpace(b) == strings.TrimSpace(sentence) })
	}
	if fresh := strings.Join(slices.DeleteFunc(slices.Clone(now), said), ""); fresh != "" {
		p.say("Picture: %s", strings.TrimSpace(fresh))
	}
	return now
}
