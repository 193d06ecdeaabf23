package stages

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

var (
	squared  = procedure.Fact{Name: "square and block"}           // bevel and height were held against square and block
	driven   = procedure.Fact{Name: "motor moved"}                // tilt and height were moved by motor
	rimAsked = procedure.Fact{Name: "rim asked", Lasts: true}     // whether there is a dial was asked
	tapered  = procedure.Fact{Name: "board tapered", Lasts: true} // the gauge board says that fence and blade are not parallel
)

// blockRow holds bevel and height against a square and a block, by hand.
func blockRow(name string, motor bool) row {
	return row{
		Name: name, Stage: 5, Title: form.Said("Bevel and height"),
		When:  func(c context) bool { return (c.Profile.Saw.MotorTilt == model.Yes) == motor },
		Done:  func(c context) bool { return c.Fact(squared) != "" || settled(c) },
		Needs: referenceOn,
		Act: procedure.HandsIn{
			Says: func(c context, _ interlock.Hands) []string {
				if motor {
					return []string{"Square to the plate, between the teeth; block to the top of the blade.", "Exactly there: type there. Else type off: it is moved again."}
				}
				return []string{
					"Square to the plate, between the teeth: tilt to 90 degrees, lock it.",
					"Raise the top tooth to a block that stays with the card; never by the scale.",
				}
			},
			Accept: func(t *taking, h interlock.Hands) {
				t.Does(interlock.Handled(h))
				if t.Choice("square") == "off" {
					t.Keep(driven, "")
					return
				}
				t.Keep(squared, t.Text("height"))
				t.Record(record{Kind: model.Note, Text: "bevel square, height by the block of " + t.Length("height").String()})
			},
		},
		Why:  form.Lines(form.SharpStill),
		Help: []string{"A blade of another height or tilt cuts at another place."},
		Fields: func(c context) []field {
			square := form.Word("square", "Square on the plate, tilt locked", "there")
			if motor {
				square = form.Seen("square", "Square and block say", "there", "off")
			}
			return []field{square, form.Length(c, "height", "Height of the block", c.Pick("60", "2 3/8"), model.Measure{}, 5*mm, 200*mm)}
		},
		Picture: func(c context, a answers) procedure.Picture {
			f := picture.Front{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide, Held: true}
			f.Block, _ = form.Parse(c, a["height"])
			return f
		},
	}
}

// settled reports whether stage 5 is behind: what it sees to was seen to before.
func settled(c context) bool { return c.State.HeelToe != nil && len(c.State.Strips) > 0 }

// drivenRow moves tilt and height by their motor: with the blade still, and the whole
// checklist passed.
var drivenRow = row{
	Name: "driven", Stage: 5, Title: form.Said("Move tilt and height by the motor"),
	When: func(c context) bool { return c.Profile.Saw.MotorTilt == model.Yes },
	Done: func(c context) bool { return c.Fact(driven) != "" || settled(c) },
	Needs: func(c context) interlock.Need {
		n := referenceOn(c)
		n.Still = true
		return n
	},
	Act: procedure.Spins{
		Says: form.Lined[interlock.Turning]("Do not start the blade. Tilt and height by their buttons to 90 degrees and block.", "Stop button in. It is isolated next, and held against square and block."),
		Accept: func(t *taking, p interlock.Turning) {
			t.Does(interlock.Driven(p))
			t.Keep(driven, "moved")
		},
	},
	Why:    form.Lines("Power is on: hands stay away from the blade, though it stands."),
	Fields: form.Fields(form.Word("moved", "Moved, and the blade stood all the while", "moved")),
}

// heelToeRow measures blade and fence against the slot.
var heelToeRow = row{
	Name: "heel-toe", Stage: 5, Title: form.Said("Heel and toe"),
	Done:  func(c context) bool { return c.State.HeelToe != nil && c.Fact(tapered) == "" },
	Needs: func(c context) interlock.Need { n := referenceOn(c); n.Lock = c.State.Lock; return n },
	Act: procedure.HandsIn{
		Says: form.Lined[interlock.Hands]("Mark a tooth. With it in front measure to mitre slot and fence.",
			"Turn it to the rear by hand. Measure both again."),
		Accept: func(t *taking, h interlock.Hands) {
			r := record{Kind: model.HeelToe, Blade: referenceOn(t.Context).On.Blade}
			putHeelToe(t, &r)
			t.Record(r)
			t.Does(interlock.Handled(h))
			t.Keep(tapered, "")
		},
	},
	Why:  form.Lines(form.SharpStill),
	Once: form.Lines("A fence closing toward the rear pushes stock onto the teeth: kickback."),
	Help: []string{"Within {0.08 to 0.13 mm|0.003 to 0.005 in} from heel to toe is common practice. Correct trunnion or fence by the saw's manual, then measure again.", "By a dial: zero it on the tooth in front and type 0; at the rear type what it shows, + where the tooth lies farther from slot or fence, - where nearer: it presses the dial in.", "Turn the blade by hand only: the saw stays isolated."},
	Fields: func(c context) []field {
		return []field{
			toothFront(c, "slot", c.Pick("95.00", "3.740"), 1000*mm), toothRear(c, "slot", c.Pick("95.03", "3.741"), 1000*mm, model.BladeLies),
			toothFront(c, "fence", likeFence(c, 0, 0), 2000*mm), toothRear(c, "fence", likeFence(c, 4, 1), 2000*mm, model.FenceLies),
			form.Measuring(form.Length(c, "span", "Front to rear, how far it moved", c.Pick("200", "8"), model.Measure{}, 20*mm, 700*mm)),
		}
	},
	Reads: &procedure.Reads{
		Kind: model.HeelToe, Keys: []string{"slot_front", "slot_rear", "fence_front", "fence_rear", "span"},
		Typed: func(c context, r record) map[string]string {
			return map[string]string{"slot_front": form.TypedOne(c, r.SlotFront), "slot_rear": rearTyped(c, r.SlotFront, r.SlotRear), "fence_front": form.TypedOne(c, r.FenceFront), "fence_rear": rearTyped(c, r.FenceFront, r.FenceRear), "span": form.Typed(r.Span)}
		},
		Put: putHeelToe,
	},
	Simulated: map[string]procedure.Simulated{
		"slot_front": practice.SlotFront, "slot_rear": practice.SlotRear, "fence_front": practice.FenceFront, "fence_rear": practice.FenceRear, "span": practice.ToothWay,
	},
	Redo: func(t *taking) {
		t.Record(record{Kind: model.Void, Of: t.State.HeelToe.Ref(), Why: model.Again})
		t.Keep(squared, "")
		t.Keep(driven, "")
	},
	Follows: func(c context, a answers) []reason {
		tooth, ok := tooth(c, a)
		if !ok {
			return nil
		}
		found, err := gauging.Align(tooth, metrology.WordsOf(c.Profile))
		if err != nil {
			return nil
		}
		return found.Reasons
	},
	Picture: func(c context, a answers) procedure.Picture {
		return picture.Alignment{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide, Slot: ends(c, a, "slot"), Fence: ends(c, a, "fence")}
	},
}

// likeFence makes up a distance to the fence where it stands: so many hundredths of a millimetre,
// or thousandths of an inch, off.
func likeFence(c context, hundredths, thou model.Length) string {
	off := hundredths
	if c.Unit() != model.MM {
		off = thou
	}
	return model.Like(form.Setting(c), c.Unit(), off)
}

// dialZeroed reports whether a reading at the front says that a dial was zeroed there.
func dialZeroed(front model.Length) bool { return front == 0 }

// dialReach is more than a dial that was zeroed at the front shows at the rear of any saw.
const dialReach = 10 * mm

// toothFront asks for a tooth at the front: how far it stands from something, or 0 where a dial
// was zeroed on it.
func toothFront(c context, from, example string, most model.Length) field {
	f := form.Measuring(form.Length(c, from+"_front", "In front, to the "+from, example, model.Measure{}, 0, most))
	return f.With(func(text string) error {
		if l, _ := form.Parse(c, text); !dialZeroed(l) && l < mm {
			return fmt.Errorf("%s is no distance to the %s: type %s, or 0 where a dial was zeroed on the tooth", c.Show(l), from, model.Between(mm, most, c.Unit()))
		}
		return nil
	})
}

// toothRear asks for the same tooth at the rear: as far as at the front, or what the dial shows,
// with its sign typed, since dials do not agree on it. What the two tell of a lean is judged at
// once, though the tooth's way is not typed yet.
func toothRear(c context, from, example string, most model.Length, lies func(rise, over, doubt model.Length, tell model.Tell) []reason) field {
	key := from + "_rear"
	f := form.Measuring(form.Length(c, key, "At the rear, to the "+from, example, model.Measure{}, -most, most))
	f.Hint = "such as " + example
	return f.Against(func(t *taking) {
		rear := t.Length(key).Length
		switch zeroed := dialZeroed(t.Length(from + "_front").Length); {
		case !zeroed && rear < mm:
			t.Fault(key, "%s is no distance to the %s: type %s; or type 0 for the front, where a dial was zeroed there", t.Show(rear), from, model.Between(mm, most, t.Unit()))
		case zeroed && rear.Abs() > dialReach:
			t.Fault(key, "%s is more than a dial shows that was zeroed at the front: type the distance at the front, too", t.Show(rear))
		case zeroed && rear != 0 && !strings.ContainsAny(t.Text(key)[:1], "+-"):
			t.Fault(key, "type the sign: +%s where the tooth lies farther from the %s at the rear, -%s where it lies nearer and presses the dial in", t.Text(key), from, t.Text(key))
		default:
			front := t.Length(from + "_front").Length
			doubt := model.LeanDoubt(front, t.Profile.Instruments.Caliper.Length)
			form.Asked(t, key, lies(rear-front, 0, doubt, t.Show))
		}
	})
}

// rearTyped is the reading at the rear as it was typed, with its sign where a dial shows it.
func rearTyped(c context, front, rear model.Measure) string {
	if dialZeroed(front.Length) && rear.Length > 0 {
		return "+" + form.TypedOne(c, rear)
	}
	return form.TypedOne(c, rear)
}

// ends are the readings of a tooth to slot or fence; one under way is none yet.
func ends(c context, a answers, from string) (e picture.Ends) {
	e.Front, e.FrontRead = form.Parse(c, a[from+"_front"])
	e.Rear, e.RearRead = form.Parse(c, a[from+"_rear"])
	e.RearRead = e.RearRead && (dialZeroed(e.Front) || e.Rear > e.Front/2)
	return e
}

func tooth(c context, a answers) (gauging.Tooth, bool) {
	var l [5]model.Length
	for i, key := range []string{"slot_front", "slot_rear", "fence_front", "fence_rear", "span"} {
		var ok bool
		if l[i], ok = form.Parse(c, a[key]); !ok {
			return gauging.Tooth{}, false
		}
	}
	return gauging.Tooth{SlotFront: l[0], SlotRear: l[1], FenceFront: l[2], FenceRear: l[3], Span: l[4]}, true
}

func putHeelToe(t *taking, r *record) {
	r.SlotFront, r.SlotRear, r.FenceFront, r.FenceRear, r.Span = t.Length("slot_front"), t.Length("slot_rear"), t.Length("fence_front"), t.Length("fence_rear"), t.Length("span")
	form.Asked(t, "span", model.ToothWay(r.Span.Length, t.Show))
}

// rimRow reads the runout at the rim, where there is a dial.
var rimRow = row{
	Name: "rim", Stage: 5, Title: form.Said("Runout at the rim"),
	Done:  func(c context) bool { return c.State.Rim != nil || c.Fact(rimAsked) != "" || settled(c) },
	Needs: referenceOn,
	Act: procedure.HandsIn{
		Says: form.Lined[interlock.Hands]("Dial on the plate, inside the teeth. Turn by hand; read at equal steps from the mark."),
		Accept: func(t *taking, h interlock.Hands) {
			r := record{Kind: model.Rim, Blade: referenceOn(t.Context).On.Blade}
			putRim(t, &r)
			if len(r.Dial) > 0 {
				t.Record(r)
			}
			t.Does(interlock.Handled(h))
			t.Keep(rimAsked, "asked")
		},
	},
	Why:  form.Lines(form.SharpStill),
	Help: []string{"Best clocking: loosen, turn the blade by a known angle, tighten, read again. Then mark to mark, nut tight.", "Flange and blade both wobble; turned right against each other they cancel in part.", "Flange readings grow toward the rim by the ratio of radii: a {254 mm|10 in} blade on a {63.5 mm|2 1/2 in} flange shows four times the flange's wobble."},
	Fields: func(c context) []field {
		dial := func(key, label string) field {
			return form.Optional(form.Lengths(c, key, label, "four or more; empty: no dial", nil, 4, 72, -5*mm, 5*mm))
		}
		empty := func(text string) bool { return text == "" }
		turned := field{Key: "turned", Label: "Blade then turned by, degrees", Hint: "such as 180; empty: not turned", Kind: procedure.FieldDegrees, Optional: true}
		return []field{dial("dial", "Dial round the rim").WithAlone(empty), turned.WithAlone(empty), dial("dial_turned", "Dial once more, turned")}
	},
	Reads: &procedure.Reads{
		Kind: model.Rim, Keys: []string{"dial", "turned", "dial_turned"},
		Typed: func(c context, r record) map[string]string {
			out := map[string]string{"dial": form.TypedAll(c, r.Dial), "dial_turned": form.TypedAll(c, r.DialTurned)}
			if len(r.DialTurned) > 0 {
				out["turned"] = fmt.Sprint(r.TurnedDeg)
			}
			return out
		},
		Put: putRim,
	},
	Simulated: map[string]procedure.Simulated{"dial": func(c context, s procedure.Saw, _ answers) string {
		return practice.Micrometer(c, practice.At(c, s, "rim", practice.Times(c, model.Rim)).RimDial(practice.DressedUp(c), 8))
	}},
	Follows: func(c context, a answers) []reason {
		h, err := gauging.FirstHarmonic(form.Readings(c, a["dial"]))
		if err != nil {
			return nil
		}
		return gauging.RimWords(h, shop.Wobbles(c, a), shop.MicrometerWords(c))
	},
	Picture: func(c context, a answers) procedure.Picture {
		return shop.DialPicture(c, a, "rim of the "+c.Name(c.Profile.Reference))
	},
}

func putRim(t *taking, r *record) {
	first, second := t.Lengths("dial"), t.Lengths("dial_turned")
	if t.Typed("turned") != (len(second) > 0) {
		t.Fault("dial_turned", "the angle and the second set of readings belong together: type both or neither")
	}
	if len(second) > 0 && len(first) != len(second) {
		t.Fault("dial_turned", "%d readings, and %d before: read at the same number of places", len(second), len(first))
	}
	r.Dial, r.DialTurned, r.TurnedDeg = first, second, 0
	if t.Typed("turned") {
		r.TurnedDeg = t.Degrees("turned")
	}
}
