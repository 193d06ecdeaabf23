package wizard

import (
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/procedure"
)

// plainCommands are the words that a line may begin with instead of an answer. They
// report whether another place is to be shown.
var plainCommands map[string]func(p *plain, v procedure.View, rest string) (moved bool, err error)

func init() {
	plainCommands = map[string]func(*plain, procedure.View, string) (bool, error){
		"/help": func(p *plain, v procedure.View, _ string) (bool, error) {
			for _, line := range v.Why {
				p.say("Careful: %s", line)
			}
			for _, line := range v.Help {
				p.say("Help: %s", line)
			}
			p.say(plainKeys)
			return false, nil
		},
		"/back": func(p *plain, v procedure.View, _ string) (bool, error) { return p.event(procedure.Back, v.Place), nil },
		"/forward": func(p *plain, v procedure.View, _ string) (bool, error) {
			return p.event(procedure.Forward, v.Place), nil
		},
		"/records": func(p *plain, _ procedure.View, _ string) (bool, error) {
			lines := profiles.RecordLines(p.procedure.Profile())
			if len(lines) == 0 {
				p.say("Nothing is on record yet.")
			}
			for _, line := range lines {
				p.say("Record %s.", line)
			}
			for _, d := range drifts(p.procedure.Profile()) {
				p.say("%s", d.Sentence())
			}
			return false, nil
		},
		"/work": func(p *plain, _ procedure.View, rest string) (bool, error) {
			tasks := p.procedure.Tasks()
			if n, err := strconv.Atoi(rest); err == nil && n >= 1 && n <= len(tasks) {
				return p.event(procedure.Begin, tasks[n-1].Place), nil
			}
			for i, t := range tasks {
				p.say("Work %d: %s.", i+1, t.Label)
			}
			if len(tasks) == 0 {
				p.say("No other work can begin here.")
			} else {
				p.say("Type /work and its number to begin one.")
			}
			return false, nil
		},
		"/copy": func(p *plain, _ procedure.View, rest string) (bool, error) {
			switch {
			case p.copyTo == nil || rest == "":
				p.say("Type /copy and the name of a new file.")
			default:
				if err := p.copyTo(rest, p.procedure.Profile()); err != nil {
					p.say("Not copied: %s.", printable(err.Error()))
				} else {
					p.say("A copy is in %s.", printable(rest))
				}
			}
			return false, nil
		},
		"/quit": func(*plain, procedure.View, string) (bool, error) { return false, errLeft },
	}
	plainCommands["?"] = plainCommands["/help"]
}

// command obeys a line that is a command.
func (p *plain) command(v procedure.View, line string) (moved bool, err error) {
	name, rest, _ := strings.Cut(line, " ")
	obey, ok := plainCommands[name]
	if !ok {
		p.say("%s is no command here. %s", printable(name), plainKeys)
		return false, nil
	}
	return obey(p, v, strings.TrimSpace(rest))
}

// event sends an event that leads to another place, and tells when it does not.
func (p *plain) event(kind procedure.EventKind, place procedure.Place) bool {
	next, err := p.lead(kind, place)
	p.job = next
	if err != nil {
		for _, unmet := range refusal(err).Unmet {
			p.say("%s", model.Sentence("Not now: "+unmet))
		}
		return false
	}
	return true
}

// handOn writes what the closing place was asked for, and says what became of it;
// false where nothing was asked for.
func (p *plain) handOn() bool {
	write := p.handing()
	if write == nil {
		return false
	}
	next, text, _ := p.handedOn(write())
	p.job = next
	p.say("%s", text)
	return true
}
