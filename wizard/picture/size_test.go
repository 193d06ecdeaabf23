package picture

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.com/sawdatum/model"
)

// lengths are mostly of the trade, sometimes of no saw at all.
func lengths(t *rapid.T, name string) model.Length {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(-4_000_000, 4_000_000), func(n int) model.Length { return model.Length(n) }),
		rapid.Map(rapid.Int64(), func(n int64) model.Length { return model.Length(n) }),
		rapid.Just(model.Length(0)),
		rapid.SampledFrom([]model.Length{math.MinInt64, math.MaxInt64, model.MaxLength, -model.MaxLength, 1, -1}),
	).Draw(t, name)
}

var floats = rapid.OneOf(rapid.Float64(), rapid.Float64Range(-720, 720), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0}))

var words = rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"24-tooth rip", "", "刃物の名前は長いです", "é\u0301\u0301", "a\x1b[31mb", "\u202eabc", "🇩🇪🪚👩\u200d🔧", "ക്ഷ"}))

func anyPicture(t *rapid.T) Picture {
	f := Figures{Unit: rapid.SampledFrom([]model.Unit{model.NoUnit, model.MM, model.IN, model.Fraction, model.Mil}).Draw(t, "unit"), Resolution: lengths(t, "resolution")}
	list := func(name string, n int) []model.Length {
		return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Length { return lengths(t, "l") }), 0, n).Draw(t, name)
	}
	l := func(name string) model.Length { return lengths(t, name) }
	is := func(name string) bool { return rapid.Bool().Draw(t, name) }
	word := func(name string) string { return words.Draw(t, name) }
	side := rapid.SampledFrom([]model.Side{model.SideLeft, model.SideRight}).Draw(t, "side")
	flange := rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange")
	verdict := rapid.SampledFrom([]model.Verdict{model.In, model.Out, model.Doubtful, model.Cannot, ""}).Draw(t, "verdict")
	switch rapid.IntRange(0, 13).Draw(t, "picture") {
	case 0:
		return ArborSection{f, word("blade"), flange, side, l("plate"), l("kerf"), l("runout"), list("rings", 40), l("knife"), l("face"), l("gap"), l("datum"), is("has datum"), l("tolerance"), is("astray"), is("empty")}
	case 1:
		s := Strips{f, side, l("tolerance"), l("guard"), l("datum"), rapid.IntRange(0, 9).Draw(t, "of"), nil, rapid.Bool().Draw(t, "own")}
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			s.Rows = append(s.Rows, StripRow{word("name"), l("mean"), l("step"), is("read")})
		}
		return s
	case 2:
		r := Rack{Figures: f, FenceSide: side, Tolerance: l("tolerance"), Current: word("current")}
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			r.Blades = append(r.Blades, RackBlade{word("id"), word("label"), is("ref"), l("before"), l("after"), l("u"), is("known"), verdict, word("rings"), model.Readiness(word("state"))})
		}
		return r
	case 3:
		p := FenceScale{Figures: f, Fitted: is("fitted"), Shift: l("shift"), Slope: floats.Draw(t, "slope"), Working: l("w"), Tolerance: l("tolerance")}
		for _, s := range list("sets", 8) {
			p.Points = append(p.Points, ScalePoint{s, l("read")})
		}
		return p
	case 4:
		return Dial{f, word("what"), list("readings", 40), is("fitted"), l("mean"), l("amplitude"), floats.Draw(t, "high"), floats.Draw(t, "best"), is("has best")}
	case 5:
		k := KnifeWindow{Figures: f, Margin: l("margin")}
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			k.Blades = append(k.Blades, KnifeBlade{word("id"), word("label"), l("plate"), l("kerf"), l("knife"), rapid.SampledFrom([]model.KnifeFit{model.KnifeFits, model.KnifeNone, model.KnifeTooThick, model.KnifeTooThin}).Draw(t, "fit")})
		}
		return k
	case 6:
		return Alignment{f, side, Ends{l("slot front"), l("slot rear"), is("slot front"), is("slot rear")}, Ends{l("fence front"), l("fence rear"), is("fence front"), is("fence rear")}}
	case 9:
		return List{rapid.SliceOfN(words, 0, 40).Draw(t, "left"), rapid.SliceOfN(words, 0, 40).Draw(t, "right")}
	case 8:
		t2 := Table{What: word("what"), Note: word("note")}
		for range rapid.IntRange(1, 9).Draw(t, "columns") {
			t2.Columns = append(t2.Columns, Column{word("head"), is("right"), is("spare")})
		}
		for range rapid.IntRange(0, 40).Draw(t, "n") {
			t2.Rows = append(t2.Rows, TableRow{rapid.SliceOfN(words, 0, 10).Draw(t, "cells"), is("fails"), is("whole"), is("now"), []int{0, 3}})
		}
		return t2
	case 12:
		return Front{f, rapid.SampledFrom([]model.Tilt{model.TiltLeft, model.TiltRight, ""}).Draw(t, "tilt"), side, is("held"), l("block")}
	case 10:
		return Board{f, side, l("long"), l("lead"), l("tail")}
	case 11:
		return KnifeBehind{f, side, l("gap"), is("read"), l("least"), l("most"), is("held"), list("faces", 2), l("limit"), l("play")}
	case 7:
		return KnifeGaps{f, side, l("limit"), list("gaps", 6)}
	}
	d := Drift{Figures: f, Blade: word("blade"), HasLimits: is("limits"), Mean: l("mean"), Lower: l("lower"), Upper: l("upper"), Tolerance: l("tolerance")}
	for _, v := range list("points", 300) {
		d.Points = append(d.Points, DriftPoint{word("day"), v, is("beyond")})
	}
	return d
}

// TestEverySize: whatever the values and the size, the text has that size.
func TestEverySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPicture(t)
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 200).Draw(t, "h")
		if rapid.Bool().Draw(t, "small") {
			w, h = rapid.IntRange(28, 80).Draw(t, "w small"), rapid.IntRange(5, 24).Draw(t, "h small")
		}
		for _, set := range []Charset{Blocks, Lines, ASCII} {
			text := p.Draw(w, h, Look{Charset: set})
			exactly(t, text, w, h)
			if set == ASCII {
				for _, r := range text {
					if r > 0x7e {
						t.Fatalf("%q in ASCII", r)
					}
				}
			}
			if strings.ContainsAny(text, "\x1b\r\t\u202e\u200d") {
				t.Fatalf("control character in %q", text)
			}
		}
		if p.Sentence() == "" {
			t.Fatal("no sentence")
		}
	})
}

type fataler interface{ Fatalf(string, ...any) }

func exactly(t fataler, text string, w, h int) {
	lines := strings.Split(text, "\n")
	if h == 0 {
		lines = lines[1:]
	}
	if len(lines) != max(h, 0) {
		t.Fatalf("%d lines, want %d:\n%s", len(lines), h, text)
	}
	for i, line := range lines {
		if n := ansi.StringWidth(line); n != w {
			t.Fatalf("line %d has %d cells, want %d: %q", i, n, w, line)
		}
	}
}

// TestEverySizeInOrder goes through all sizes with the values of the goldens.
func TestEverySizeInOrder(t *testing.T) {
	for _, name := range names {
		for w := 0; w <= 200; w += 5 {
			for h := 0; h <= 60; h += 4 {
				exactly(t, samples[name].Draw(w, h, Look{}), w, h)
			}
		}
		exactly(t, samples[name].Draw(-1, -1, Look{}), 0, 0)
	}
}

// TestJoinedLetters: letters that a terminal joins with their neighbours keep the
// size, whatever is written beside them.
func TestJoinedLetters(t *testing.T) {
	for _, name := range []string{"กำ", "\u0d4eക", "\u1100\u1161\u11a8", "e\u0301", "🇩🇪"} {
		r := Rack{Tolerance: mm / 20, Blades: []RackBlade{{ID: name, Label: name, Known: true, Verdict: model.In}}}
		for _, set := range []Charset{Blocks, Lines, ASCII} {
			exactly(t, r.Draw(60, 8, Look{Charset: set}), 60, 8)
		}
	}
}
