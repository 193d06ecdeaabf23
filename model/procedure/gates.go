package procedure

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
)

// longestRunDown is what a saw in order needs to stand still (HSE WIS16, WIS38).
const longestRunDown = 10 * time.Second

var gateCautions = []string{
	"The saw's manual, the law and your safety officer come first. Anything behind a cover is an electrician's work.",
	"A plug is isolation only while it lies where you alone can put it back.",
	"An isolator that is opened while the blade turns can take the power from the brake: stop, wait, then isolate.",
}

var gateSteps = map[string]step{
	"stop": {
		number: 3, gate: true, once: true, title: titled("Stop the saw"),
		do: words("Switch the saw off at its stop button, and count.", "Wait until the blade stands still. Leave the isolator alone until it does.",
			"Type how many seconds it took. Already still: do not start it for this; watch it for as long as it runs down, and type that."),
		why:  words("Hands go near the arbor next. A blade that runs on looks like one that stands."),
		help: gateCautions,
		fields: func(context) []Field {
			return []Field{{Key: "run_down", Label: "Run-down, seconds", Hint: "from off to standstill, such as 6", Kind: FieldSeconds, Measuring: true}}
		},
		accept: func(t *taking) {
			t.run.runDown, _ = parseSeconds(t.text("run_down"))
			t.run.stopped = true
			t.limit("run_down", model.RunDownTyped(t.run.runDown, t.run.came, t.at))
			if t.run.runDown > longestRunDown {
				t.say("run-down-slow", model.Danger, "The blade needed %s to stop: more than 10 s means that the brake wants a look.", seconds(t.run.runDown))
			}
		},
	},
	"slow": {
		number: 3, gate: true, once: true, title: titled("The run-down is too long"),
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("The blade took %s to stand still. A saw in order needs at most 10 s.", seconds(c.run.runDown)),
				"Look again: it must stand still now.", "Have the brake looked at before the saw is used for work.",
			}
		},
		why:  words("A long run-down is how fingers meet a blade that seemed to stand."),
		help: gateCautions,
		fields: func(context) []Field {
			return []Field{wordField("still", "The blade stands still, and the brake will be looked at", "standing")}
		},
		accept: func(t *taking) { t.run.slow = true },
	},
	"isolate": {
		number: 3, gate: true, once: true, title: titled("Isolate the saw"),
		do: words("Pull the plug and keep it by you, or switch the disconnect off, lock it and keep the key.",
			"Press the start button: the saw must stay dead. Press stop again.", "Then answer. The last word changes each time: read it off this screen."),
		why:  words("Nothing but this keeps the blade still while hands are at it."),
		help: gateCautions,
		fields: func(c context) []Field {
			return []Field{
				{Key: "how", Label: "Isolated how", Hint: "unplugged or locked", Kind: FieldChoice, Options: []string{"unplugged", "locked"}, Whole: true},
				wordField("dead", "The start button does nothing", "dead"),
				{Key: "by", Label: "Initials of who did it", Hint: "such as KB", Kind: FieldInitials},
				wordField("word", "The word", word(c.options.Seed, c.run.gates)),
			}
		},
		accept: func(t *taking) {
			t.run.who = t.text("by")
			t.record(model.Record{Kind: model.Isolation, RunDown: t.run.runDown, How: t.choice("how"), Dead: "dead"})
			t.run.power, t.run.since, t.run.by, t.run.isolated = Isolated, t.at, t.run.who, true
			t.run.stopped, t.run.slow, t.run.behind = false, false, ""
			t.say("isolated", model.Explains, "The saw is isolated. It stays so until the power-up checklist.")
		},
	},
	"power": {
		number: 3, gate: true, once: true, title: titled("Power-up checklist"), picture: ArborSection,
		do:   powerDo,
		why:  words("The blade turns next: what is loose flies, and who does not know reaches in."),
		help: []string{"Loose items out, parts whole, people clear and told, the lock taken off by its owner: then power. Eyes and ears covered, no gloves while it turns, stand out of the line of the blade.", "The saw's manual, the law and your safety officer come first."},
		fields: func(c context) []Field {
			fields := append(c.whose(c.onArbor(), "Teeth of the blade on the arbor"),
				wordField("nut", "The nut is tight", "tight"),
				wordField("mark", "The blade's mark stands at the arbor's mark", "aligned"),
				c.knifeField(c.knifeFitted()),
				wordField("throat", "The throat plate is in and closed", "closed"),
				wordField("tools", "The table is clear of tools and rings", "clear"),
				wordField("people", "Everybody near has been told", "told"),
				wordField("word", "The word", word(c.options.Seed, c.run.gates)),
			)
			if m := c.state.Mounted; m != nil && !holds("rings-seen", c.run.seen) {
				nut := slices.IndexFunc(fields, func(f Field) bool { return f.Key == "nut" })
				fields = slices.Insert(fields, nut, c.ringsOn(m.Rings))
			}
			return fields
		},
		accept: func(t *taking) {
			c := t.context()
			if on := c.onArbor(); on != "" && !holds("power-fits", t.fits(on, c.knifeFitted().ID)) {
				t.fault("knife", "the %s must not run with this knife: isolate the saw and take it off", c.name(on))
				return
			}
			t.run.power, t.run.since, t.run.seen = Live, t.at, true
			t.run.behind = c.knifeFitted().ID
			t.say("live", model.Warns, "The saw is live. Hands stay away from the blade until it is isolated again.")
		},
	},
	"hold": {
		number: 3, title: titled("ISOLATED: hands may be in"), needs: isolated, picture: NoPicture,
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("%s: isolated since %s by %s. Do what has to be done at the arbor.", c.sawName(), c.run.since.Format("15:04"), c.run.by),
				"This sign stays until hands are out and the saw is closed. Then type closed.",
				"The way back to power: blade on and nut tight, marks aligned, knife fitted, throat plate closed, table clear, everybody told, the lock taken off by its owner.",
			}
		},
		why:  words("Keep the plug or the key on you until you have typed it."),
		help: gateCautions,
		fields: func(context) []Field {
			return []Field{wordField("closed", "Hands out, throat plate in, saw closed", "closed")}
		},
		accept: func(t *taking) { t.run.held = true },
	},
}

// seconds is a run-down as it was typed, however long.
func seconds(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', -1, 64) + " s" }

func (c context) sawName() string {
	if c.profile.Saw.Label == "" {
		return "The saw"
	}
	return c.profile.Saw.Label
}

func powerDo(c context) []string {
	on := c.onArbor()
	first := "Look at the saw, item by item, and answer with your own eyes."
	if on != "" {
		first = fmt.Sprintf("On the arbor: the %s with %s. Look at each item, then answer.", c.name(on), c.rings(c.state.Mounted.Rings))
	}
	return []string{first, "Take your lock off or put the plug back only when all but the last are answered."}
}

// knifeField asks for the thickness of the knife that is fitted.
func (c context) knifeField(k model.Knife) Field {
	hint := "read it off the knife"
	if k.Thickness.Unit != model.NoUnit {
		hint = "such as " + k.Thickness.String()
	}
	return Field{Key: "knife", Label: "Knife fitted, its thickness", Hint: hint, Kind: FieldLength, Unit: c.unit(), check: func(text string) error {
		m, err := model.ParseLength(text, c.unit())
		if err == nil && m.Length != k.Thickness.Length {
			return fmt.Errorf("that is not the knife of %s: fit that one, with the saw isolated", k.Thickness)
		}
		return err
	}}
}

// ringsOn asks for the rings behind the blade, where nobody mounted it in this run.
func (c context) ringsOn(wanted []string) Field {
	return Field{Key: "rings", Label: "Rings behind it, flange first", Hint: "as you saw them: thicknesses, or none", Kind: FieldRings, check: func(text string) error {
		on, err := c.profile.ParseStack(text)
		if err == nil && !slices.Equal(on, wanted) {
			return fmt.Errorf("by the records it is %s: if they differ, or you have not seen them, say under other work that another stack is on the arbor", c.rings(wanted))
		}
		return err
	}}
}

// knifeFitted is the knife that stands behind the blade by the records, else the one that
// was typed at power-up, else the one that the blade on the arbor names.
func (c context) knifeFitted() model.Knife {
	b, _ := c.profile.BladeByID(c.onArbor())
	k, _ := c.profile.KnifeByID(cmp.Or(c.state.Fitted, c.run.behind, b.Knife))
	return k
}

// onArbor is the blade that is on the arbor by the records.
func (c context) onArbor() string {
	if c.state.Mounted == nil {
		return ""
	}
	return c.state.Mounted.Blade
}

// whose asks which blade it is that was put on: its teeth are counted, and where
// another blade of the rack has as many, its name is read off it.
func (c context) whose(blade, label string) []Field {
	b, known := c.profile.BladeByID(blade)
	fields := []Field{{Key: "teeth", Label: label, Hint: "count, or read it off the blade", Kind: FieldCount, AtLeast: 2, AtMost: 200, check: func(text string) error {
		if known && text != strconv.Itoa(b.Teeth) {
			return fmt.Errorf("%s teeth are not those of the %s: is another blade in your hand, or on the arbor? Mount the right one; under other work say that another is on the arbor", text, c.name(blade))
		}
		return nil
	}}}
	if known && len(c.twins(b)) > 0 {
		fields = append(fields, Field{Key: "name", Label: "Name that is written on it", Hint: fmt.Sprintf("read it off the blade: more than one has %d teeth", b.Teeth), Kind: FieldText, check: func(text string) error {
			if !strings.EqualFold(text, c.name(blade)) {
				return fmt.Errorf("%s belongs on: is that what is written on this blade? Mount the right one; under other work say that another is on the arbor", c.name(blade))
			}
			return nil
		}})
	}
	return fields
}

// twins are the other blades of the rack with as many teeth.
func (c context) twins(blade model.Blade) (names []string) {
	for _, b := range c.profile.Rack() {
		if b.ID != blade.ID && b.Teeth == blade.Teeth {
			names = append(names, c.name(b.ID))
		}
	}
	return names
}
