package plain

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
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
			if tell.Staged(p.Procedure) {
				p.say("Stage %d of 11: %s", v.Stage, tell.StageIs(v.Stage))
			}
			p.say(plainKeys)
			return false, nil
		},
		"/back": func(p *plain, v procedure.View, _ string) (bool, error) { return p.event(procedure.Back, v.Place), nil },
		"/forward": func(p *plain, v procedure.View, _ string) (bool, error) {
			return p.event(procedure.Forward, v.Place), nil
		},
		"/records": func(p *plain, _ procedure.View, _ string) (bool, error) {
			lines := export.RecordLines(p.Procedure.Profile())
			if len(lines) == 0 {
				p.say("Nothing is on record yet.")
			}
			for _, line := range lines {
				p.say("Record %s.", line)
			}
			for _, d := range tell.Drifts(p.Procedure.Profile()) {
				p.say("%s", d.Sentence())
			}
			return false, nil
		},
		"/work": func(p *plain, _ procedure.View, rest string) (bool, error) {
			tasks := p.Procedure.Tasks()
			if rest != "" {
				i, err := procedure.FindTask(tasks, rest)
				if err == nil {
					return p.event(procedure.Begin, tasks[i].Place), nil
				}
				p.say("%s", model.Sentence(model.Printable(err.Error())))
				return false, nil
			}
			for _, t := range tasks {
				p.say("Work %d, %s: %s.", t.Number, t.Word, t.Label)
			}
			if len(tasks) == 0 {
				p.say("No other work can begin here.")
			} else {
				p.say("Type /work and a number or a word of it to begin one, such as /work %s.", tasks[0].Word)
			}
			return false, nil
		},
		"/copy": func(p *plain, _ procedure.View, rest string) (bool, error) {
			switch {
			case p.copyTo == nil || rest == "":
				p.say("Type /copy and the name of a new file.")
			default:
				if err := p.copyTo(rest, p.Procedure.Profile()); err != nil {
					p.say("Not copied: %s.", model.Printable(err.Error()))
				} else {
					p.say("A copy is in %s.", model.Printable(rest))
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
		p.say("%s is no command here. %s", model.Printable(name), plainKeys)
		return false, nil
	}
	return obey(p, v, strings.TrimSpace(rest))
}

// event sends an event that leads to another place, and tells when it does not.
func (p *plain) event(kind procedure.EventKind, place procedure.Place) bool {
	next, err := p.Lead(kind, place)
	p.Job = next
	if err != nil {
		for _, unmet := range wizard.Refusal(err).Unmet {
			p.say("%s", model.Sentence("Not now: "+unmet))
		}
		return false
	}
	return true
}

// export writes what the closing place was asked for, and says what became of it;
// false where nothing was asked for.
func (p *plain) export() bool {
	if e := p.Procedure.Export(); e.Shown {
		for _, line := range tell.Paper(p.Job, e, 0, true) {
			p.say("%s", line)
		}
		return true
	}
	write := p.Exporting()
	if write == nil {
		return false
	}
	h := write()
	p.Job = p.Exported(h)
	p.say("%s", tell.ExportText(h, p.Saw != nil))
	return true
}
