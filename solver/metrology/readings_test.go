package metrology

import (
	"math"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// GUM (JCGM 100:2008) 4.4.3, twenty readings: mean printed 100.14, s 1.49, s of the
// mean 0.33; longer digits computed.
func TestGUM443(t *testing.T) {
	mean, c, err := ReadMean(given.Lengths(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72), 0)
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "mean", mean/1e6, 100.145, 1e-6)
	given.Close(t, "mean as printed", math.Floor(mean/1e4)/100, 100.14, 1e-6)
	given.Close(t, "s", c.Standard*math.Sqrt(20)/1e6, 1.48884448, 1e-8)
	given.Close(t, "s of the mean", c.Standard/1e6, 0.33291575, 1e-8)
	if c.Freedom != 19 {
		t.Errorf("freedom %v", c.Freedom)
	}
}

// NIST StRD Michelso, n 100.
func TestMichelso(t *testing.T) {
	var readings []model.Length
	for _, row := range given.Table(t, "testdata/michelso.txt") {
		m, err := model.ParseLength(row[0], model.MM)
		if err != nil {
			t.Fatal(err)
		}
		readings = append(readings, m.Length)
	}
	mean, c, err := ReadMean(readings, 0)
	if err != nil || c.Freedom != 99 {
		t.Fatal(c, err)
	}
	given.Close(t, "mean", mean/1e6, 299.852400000000, 1e-12)
	given.Close(t, "s", c.Standard*math.Sqrt(100)/1e6, 0.0790105478190518, 1e-15)
}
