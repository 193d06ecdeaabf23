package picture

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestNothingJumpsAtTheFirstReading: scale and dial stand there before a reading, and the words
// below them keep their places when it comes.
func TestNothingJumpsAtTheFirstReading(t *testing.T) {
	for _, u := range []model.Unit{model.MM, model.IN} {
		f := FenceScale{Figures: Figures{Unit: u, Resolution: mm / 100}, Working: 140 * mm, Other: 105 * mm, Tolerance: mm / 10}
		one := f
		one.Points = []ScalePoint{{Set: 105 * mm, Read: 105*mm + mm/20}}
		d := Dial{Figures: Figures{Unit: u, Resolution: mm / 1000}}
		first := d
		first.Readings = []model.Length{mm / 1000}
		for _, v := range []struct {
			empty, read interface {
				Draw(w, h int, look Look) string
			}
			row  int // from the bottom, that of the ruler
			word string
		}{{f, one, 2, "W "}, {d, first, 2, "degrees"}} {
			for _, size := range [][2]int{{76, 7}, {86, 17}} {
				empty, read := strings.Split(v.empty.Draw(size[0], size[1], Look{}), "\n"), strings.Split(v.read.Draw(size[0], size[1], Look{}), "\n")
				if a, b := empty[size[1]-v.row], read[size[1]-v.row]; a != b || !strings.Contains(a, v.word) {
					t.Errorf("%s, %d columns: the ruler is\n%q\nbefore a reading, and\n%q\nafter it", u.Label(), size[0], a, b)
				}
			}
		}
	}
}

// TestKnifeWindowRoundsTheSafeWay: nobody buys a knife too thin by what the picture wants. By hand:
// 0.08655 in and 0.2 mm (0.007874 in) are 0.094424 in.
func TestKnifeWindowRoundsTheSafeWay(t *testing.T) {
	plate, err := model.ParseLength("0.08655", model.IN)
	if err != nil {
		t.Fatal(err)
	}
	k := KnifeWindow{Figures: Figures{Unit: model.IN, Resolution: model.Thou / 10}, Margin: mm / 5, Blades: []KnifeBlade{
		{ID: "a", Plate: plate.Length, Kerf: 3 * mm, Knife: 2 * mm, Fit: model.KnifeTooThin}}}
	for _, said := range []string{k.Draw(76, 7, Look{}), k.Sentence()} {
		if !strings.Contains(said, "0.0945") || strings.Contains(said, "0.0944") {
			t.Errorf("0.094424 in is not rounded up:\n%s", said)
		}
	}
}

// TestADoubtfulStripIsNotDrawnAsGood: a strip inside the tolerance by less than is known of it.
func TestADoubtfulStripIsNotDrawnAsGood(t *testing.T) {
	s := Strips{Tolerance: mm / 10, Guard: mm / 100}
	if s.kind(mm/10-mm/200) == Good || s.kind(mm/20) != Good {
		t.Error("good is what is in with all that is not known of it, and nothing else")
	}
}
