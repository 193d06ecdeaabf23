// Package given is how tests of numbers write down what is given, and hold what they get
// against what was published.
package given

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// MM is a length in millimetres; it panics on one that is no length.
func MM(v float64) model.Length {
	l, err := model.FromMillimetres(v)
	if err != nil {
		panic(err)
	}
	return l
}

// Typed is a length as somebody typed it in millimetres.
func Typed(v float64) model.Measure { return MM(v).Of(model.MM) }

// Lengths are readings in millimetres.
func Lengths(vs ...float64) []model.Length {
	out := make([]model.Length, len(vs))
	for i, v := range vs {
		out[i] = MM(v)
	}
	return out
}

// Readings are readings as somebody typed them in millimetres.
func Readings(vs ...float64) []model.Measure {
	out := make([]model.Measure, len(vs))
	for i, v := range vs {
		out[i] = Typed(v)
	}
	return out
}

// Close fails unless got agrees with the published want to half a unit of want's last
// digit.
func Close(t *testing.T, what string, got, want, lastDigit float64) {
	t.Helper()
	if !(math.Abs(got-want) <= lastDigit/2*(1+1e-9)) {
		t.Errorf("%s = %.12g, published %.12g", what, got, want)
	}
}

// Table reads the lines of a file of published numbers, word by word; lines that begin
// with # say where they come from.
func Table(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if !strings.HasPrefix(line, "#") {
			rows = append(rows, strings.Fields(line))
		}
	}
	return rows
}

// Codes are the codes of reasons, in their order, with a space between.
func Codes(reasons []model.Reason) string {
	var out []string
	for _, r := range reasons {
		out = append(out, r.Code)
	}
	return strings.Join(out, " ")
}

// Says fails unless the reasons hold each of the texts.
func Says(t *testing.T, reasons []model.Reason, texts ...string) {
	t.Helper()
	var all []string
	for _, r := range reasons {
		all = append(all, r.Text)
	}
	joined := strings.Join(all, "\n")
	for _, text := range texts {
		if !strings.Contains(joined, text) {
			t.Errorf("%q is not in %q", text, joined)
		}
	}
}

// Has reports whether a reason with this code says each of the texts.
func Has(reasons []model.Reason, code string, texts ...string) bool {
	return slices.ContainsFunc(reasons, func(r model.Reason) bool {
		return r.Code == code && !slices.ContainsFunc(texts, func(text string) bool { return !strings.Contains(r.Text, text) })
	})
}
