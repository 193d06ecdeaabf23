package procedure

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// The house of these tests is invented: a saw with two discs, each sized on the bench or in
// the saw, wiped, turned once and chalked. It has an act of every kind, and none of the real steps.
var (
	wiped = Fact{Name: "wiped"}
	warm  = Fact{Name: "warm", Lasts: true}
)

func said(text string) func(Context) string { return func(Context) string { return text } }

func ordered[P any](text string) func(Context, P) []string {
	return func(Context, P) []string { return []string{text} }
}

func one(f Field) func(Context) []Field { return func(Context) []Field { return []Field{f} } }

func typeWord(word string) func(Context) []Field {
	return one(Field{Key: "word", Label: "Word", Kind: FieldWord, Word: word})
}

var millimetres = Field{Key: "size", Label: "Size", Hint: "such as 2", Kind: FieldLength, Unit: model.MM, Min: model.Millimetre, Max: 9 * model.Millimetre, Measuring: true}

// discs are the discs of the rack.
func discs(c Context) (ids []string) {
	for _, b := range c.Profile.Blades {
		ids = append(ids, b.ID)
	}
	return ids
}

// putSize is what was typed of a disc's size. Seven is asked again, eight is refused.
func putSize(t *Taking, r *model.Record) {
	switch size := t.Length("size"); size.Length {
	case 7 * model.Millimetre:
		t.Question("size", "seven is a lot")
	case 8 * model.Millimetre:
		t.Fault("size", "eight is too much: type less")
	}
	r.Plate = []model.Measure{t.Length("size")}
}

func typedSize(_ Context, r model.Record) map[string]string {
	if len(r.Plate) == 0 {
		return nil
	}
	return map[string]string{"size": r.Plate[0].String()}
}

func turns(c Context, blade string) (n int) {
	for _, r := range model.Counted(c.All()) {
		if r.Kind == model.Mount && r.Blade == blade {
			n++
		}
	}
	return n
}

var sawRow = Row{
	Name: "saw", Stage: 1, Title: said("The saw"),
	Done: func(c Context) bool { return c.Profile.Saw.Label != "" },
	Act: Paper{
		Says: func(Context) []string { return []string{"Read its label."} },
		Accept: func(t *Taking) {
			t.IsAtTheSaw(t.Text("by"))
			writeLabel(t)
		},
	},
	Fields: func(c Context) []Field {
		return []Field{{Key: "by", Label: "Initials", Hint: "such as KB", Kind: FieldInitials}, {Key: "label", Label: "Label", Hint: "such as the red saw", Kind: FieldText, Value: c.Profile.Saw.Label},
			{Key: "word", Label: "Word", Kind: FieldWord, Word: "read"}}
	},
	Head: writeLabel,
}

func writeLabel(t *Taking) {
	label := t.Text("label")
	t.Head(func(p *model.Profile) { p.Saw.Label = label })
}

var sizeRow = Row{
	Name: "size", Stage: 2, Title: func(c Context) string { return "Size of " + c.Blade },
	Help: []string{"A disc of {9 mm|0.35 in} is too wide."},
	Done: func(c Context) bool { return len(c.State.Blades[c.Blade].Plate) > 0 },
	Why:  func(Context) []string { return []string{"It goes between two others."} },
	Act: Measure{
		Part: func(c Context) string { return c.Blade },
		Says: ordered[interlock.Bench]("Measure it."),
		Accept: func(t *Taking, b interlock.Bench) {
			r := model.Record{Kind: model.Remeasured, Blade: t.Blade}
			putSize(t, &r)
			t.Record(r)
			t.Does(interlock.Measured(b))
			t.After(func(c Context) []model.Reason {
				return []model.Reason{{Code: "sized", Text: c.Blade + " is " + c.State.Blades[c.Blade].Plate[0].String()}}
			})
		},
	},
	Fields: func(Context) []Field {
		return []Field{millimetres, {Key: "word", Label: "Word", Kind: FieldWord, Word: "sized"}}
	},
	Reads:   &Reads{Kind: model.Remeasured, Keys: []string{"size"}, Typed: typedSize, Put: putSize},
	Follows: func(_ Context, a Answers) []model.Reason { return []model.Reason{{Code: "typed", Text: a["size"]}} },
	Figure:  func(_ Context, a Answers) Figure { return Figure{Text: a["size"], Caption: "size"} },
	Picture: func(c Context, a Answers) Picture { return drawing(c.Blade + a["size"]) },
	Simulated: map[string]Simulated{
		"size": func(c Context, s Saw, _ Answers) string { return s.(map[string]string)[c.Blade] },
	},
	Redo: func(t *Taking) { t.Record(model.Record{Kind: model.Note, Blade: t.Blade, Text: "sized again"}) },
}

type drawing string

func (d drawing) Sentence() string { return string(d) }

// motorRow is fixed in the saw, and the manual will do.
var motorRow = Row{
	Name: "motor", Stage: 3, Title: said("The motor"),
	Done: func(c Context) bool { return c.Profile.Saw.SpindleSpeed > 0 },
	Act: Measure{
		Part: said(""), FromPaper: true,
		Says: ordered[interlock.Bench]("Read its plate."),
		Accept: func(t *Taking, b interlock.Bench) {
			n, paper := t.Count("speed"), t.FromPaper()
			t.Head(func(p *model.Profile) {
				if p.Saw.SpindleSpeed = n; paper {
					p.Saw.FromPaper = []string{"spindle_speed"}
				}
			})
			if !paper {
				t.Does(interlock.Measured(b))
			}
		},
	},
	Fields: one(Field{Key: "speed", Label: "Speed", Hint: "such as 4000", Kind: FieldCount, AtLeast: 1, AtMost: 9000}),
}

var wipeRow = Row{
	Name: "wipe", Stage: 4, Title: said("Wipe the arbor"),
	Done:  func(c Context) bool { return c.Fact(wiped) != "" },
	Needs: func(Context) interlock.Need { return interlock.Need{Bare: true} },
	Act: HandsIn{
		Says: ordered[interlock.Hands]("Wipe it."),
		Accept: func(t *Taking, h interlock.Hands) {
			t.Keep(wiped, "yes")
			t.Does(interlock.Handled(h))
		},
	},
	Fields: typeWord("clean"),
	Redo:   func(t *Taking) { t.Keep(wiped, "") },
}

var turnRow = Row{
	Name: "turn", Stage: 5, Title: func(c Context) string { return "Turn " + c.Blade },
	When: func(c Context) bool { return c.Fact(warm) == "" },
	Done: func(c Context) bool { return turns(c, c.Blade) > 0 },
	Needs: func(c Context) interlock.Need {
		return interlock.Need{On: interlock.Fit{Blade: c.Blade, Knife: "k"}, Lock: "L1"}
	},
	Act: Spins{
		Says: ordered[interlock.Turning]("Start, listen, stop."),
		Accept: func(t *Taking, p interlock.Turning) {
			t.Record(model.Record{Kind: model.Mount, Blade: t.Blade})
			t.Does(interlock.Ripped(p))
		},
	},
	Fields: typeWord("turned"),
	Redo: func(t *Taking) {
		for _, r := range t.All() {
			if r.Kind == model.Mount && r.Blade == t.Blade {
				t.Record(model.Record{Kind: model.Void, Of: r.Ref(), Why: model.Again})
			}
		}
		t.Does(interlock.OtherOn())
	},
}

var endRow = Row{
	Name: "end", Stage: 6, Title: said("The end"), Look: Result,
	Act: Paper{
		Says: func(Context) []string { return []string{"Type end."} },
		Accept: func(t *Taking) {
			if e := t.Export("word"); e.As != "" {
				t.Hand(e)
				return
			}
			t.Finish()
		},
	},
	Fields: one(Field{Key: "word", Label: "Word", Kind: FieldExport, Word: "end", Options: []string{"card"}}),
}

// Other work: a note; the fence moved, which another row follows; and what wants hands in.
var (
	noteRow = Row{
		Name: "note", Stage: 6, Title: said("A note"), Also: "jot",
		Act: Paper{
			Says: func(Context) []string { return nil },
			Accept: func(t *Taking) {
				t.Record(model.Record{Kind: model.Note, Text: t.Text("text")})
				t.Say("noted", model.Warns, "noted %s", t.Text("text"))
				if t.Text("text") == "one more" {
					t.Stay()
				}
			},
		},
		Fields: one(Field{Key: "text", Label: "Text", Hint: "such as dust", Kind: FieldText}),
	}
	movedRow = Row{
		Name: "moved", Stage: 6, Title: said("The fence moved"),
		When: func(c Context) bool { return c.Who != "" },
		Act: Paper{
			Says:   func(Context) []string { return nil },
			Accept: func(t *Taking) { t.Does(interlock.FenceMoved()); t.Begin(&aboutRow, "b") },
		},
	}
	aboutRow = Row{
		Name: "about", Stage: 6, Title: said("About a disc"),
		Act: HandsIn{
			Says:   ordered[interlock.Hands]("Look at it."),
			Accept: func(t *Taking, h interlock.Hands) { t.Does(interlock.Handled(h)) },
		},
	}
)

// whereRow asks where a part is: bench, isolate, or paper.
var whereRow = Row{
	Name: "where", Stage: 1, Title: said("Where is it?"),
	Act: Paper{
		Says: func(Context) []string { return nil },
		Accept: func(t *Taking) {
			switch t.Choice("where") {
			case "bench":
				t.Does(interlock.LaidOut(t.Blade, interlock.Fit{}, true))
			case "isolate":
				t.Isolate()
			default:
				t.ReadFromPaper()
			}
		},
	},
	Fields: one(Field{Key: "where", Label: "Where", Kind: FieldChoice, Options: []string{"bench", "isolate", "paper"}}),
}

// gateRow is the row of a gate: a word, and the event that opens it.
func gateRow(g interlock.Gate) *Row {
	r := Row{Name: g.String(), Gate: true, Title: said(g.String()), Fields: typeWord("seen")}
	paper := func(event func(*Taking) interlock.Event) Act {
		return Paper{Says: func(Context) []string { return []string{"Look."} }, Accept: func(t *Taking) { t.Does(event(t)) }}
	}
	hands := func(event func(*Taking, interlock.Hands) interlock.Event) Act {
		return HandsIn{Says: ordered[interlock.Hands]("Look."), Accept: func(t *Taking, h interlock.Hands) { t.Does(event(t, h)) }}
	}
	switch g {
	case interlock.StillDead:
		r.Act = paper(func(*Taking) interlock.Event { return interlock.StillDeadNow() })
	case interlock.NobodyThere:
		r.Act = paper(func(*Taking) interlock.Event { return interlock.NobodyWasThere() })
	case interlock.Fence:
		r.Act = paper(func(t *Taking) interlock.Event { return interlock.FenceVouched(t.Need.Lock) })
	case interlock.Stop:
		r.Act = paper(func(*Taking) interlock.Event { return interlock.Stopped(3*time.Second, 10*time.Second) })
	case interlock.Isolate:
		r.Act = paper(func(*Taking) interlock.Event { return interlock.IsolatedNow() })
	case interlock.TakeOff:
		r.Act = hands(func(_ *Taking, h interlock.Hands) interlock.Event { return interlock.Mounted(h, interlock.Fit{}) })
	case interlock.Sight:
		r.Act = hands(func(t *Taking, h interlock.Hands) interlock.Event {
			return interlock.Sighted(h, interlock.Fit{Blade: "a", Knife: "k"})
		})
	case interlock.PutOn:
		r.Act = hands(func(t *Taking, h interlock.Hands) interlock.Event { return interlock.Mounted(h, t.Need.On) })
	case interlock.Gap:
		r.Act = hands(func(_ *Taking, h interlock.Hands) interlock.Event { return interlock.GapTyped(h) })
	case interlock.Line:
		r.Act = hands(func(_ *Taking, h interlock.Hands) interlock.Event { return interlock.SeenInLine(h) })
	case interlock.Brake:
		r.Act = paper(func(*Taking) interlock.Event { return interlock.BrakeAnswered() })
	case interlock.PowerUp:
		r.Act = hands(func(_ *Taking, h interlock.Hands) interlock.Event {
			return interlock.PoweredUp(h, interlock.Checklist{Tight: true, Free: true, Guard: true, Clear: true, Off: true})
		})
	case interlock.FirstStart:
		r.Act = Spins{Says: ordered[interlock.Turning]("Start."), Accept: func(t *Taking, p interlock.Turning) { t.Does(interlock.Started(p)) }}
	}
	return &r
}

func invented() House {
	return House{
		Blocks: []Block{
			{Rows: []Row{sawRow, motorRow}},
			{Each: discs, Rows: []Row{sizeRow, wipeRow, turnRow}},
			{Rows: []Row{endRow}},
		},
		Gate:  func(g interlock.Gate, _ Context) *Row { return gateRow(g) },
		Where: &whereRow,
		Work:  []Row{noteRow, movedRow},
	}
}

// run is a procedure with a clock, and the hand that answers it.
type run struct {
	*testing.T
	Procedure
	at     time.Time
	judged *int // how often the records were judged
	way    []string
}

var eight = time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)

func begun(t *testing.T, change func(*House, *model.Profile)) *run {
	t.Helper()
	h := invented()
	p := model.Profile{Units: model.MM, Blades: []model.Blade{{ID: "a", Knife: "k"}, {ID: "b", Knife: "k"}}, Knives: []model.Knife{{ID: "k"}}}
	if change != nil {
		change(&h, &p)
	}
	if err := h.Check(); err != nil {
		t.Fatal(err)
	}
	judged := 0
	judge := func(p model.Profile, at time.Time) Plan { judged++; return Plan{Blades: []model.BladeRow{{ID: "a"}}} }
	return &run{T: t, Procedure: New(p, h, judge, Options{Seed: 1}), at: eight, judged: &judged}
}

// right is what an honest hand types.
func right(v View) Answers {
	a := Answers{}
	for _, f := range v.Fields {
		switch {
		case f.Word != "":
			a[f.Key] = f.Word
		case f.Key == "where" && v.Place.Blade == "":
			a[f.Key] = "isolate"
		case f.Key == "where":
			a[f.Key] = "bench"
		default:
			_, a[f.Key], _ = strings.Cut(f.Hint, "such as ")
		}
	}
	return a
}

// send sends an event ten seconds later. What it refuses is nil where it is taken.
func (r *run) send(e Event) *Refusal {
	r.Helper()
	r.at = r.at.Add(10 * time.Second)
	e.At = r.at
	next, err := r.Apply(e)
	r.Procedure = next
	var refusal *Refusal
	if err != nil && !errors.As(err, &refusal) {
		r.Fatalf("%v is no refusal", err)
	}
	return refusal
}

// answer types the right answer, but for what is given as key and text.
func (r *run) answer(other ...string) *Refusal {
	r.Helper()
	v := r.View()
	a := right(v)
	for i := 0; i+1 < len(other); i += 2 {
		a[other[i]] = other[i+1]
	}
	refusal := r.send(Event{Kind: Answer, Visit: v.Visit, Answers: a})
	if refusal == nil {
		r.way = append(r.way, v.Place.String())
	}
	return refusal
}

// upTo answers until a place comes up.
func (r *run) upTo(place string) *run {
	r.Helper()
	for range 60 {
		if r.View().Place.String() == place {
			return r
		}
		if refusal := r.answer(); refusal != nil {
			r.Fatalf("%s refuses the right answer: %v", r.View().Place, refusal)
		}
	}
	r.Fatalf("%s does not come after %s", place, strings.Join(r.way, ", "))
	return nil
}

// must fails where an event that has to be taken is not.
func (r *run) must(refusal *Refusal) *run {
	r.Helper()
	if refusal != nil {
		r.Fatalf("refused: %v", refusal)
	}
	return r
}
