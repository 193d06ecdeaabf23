package profiles

import (
	_ "embed" // the invented shop

	"example.com/sawdatum/model"
)

//go:embed demo.yaml
var demo []byte

// Demo is the profile of an invented shop with nothing done yet, to look around and
// to practise in.
func Demo() model.Profile {
	p, findings := Parse("demo.yaml", demo)
	if len(findings.Faults()) > 0 {
		panic(findings) // a test reads it
	}
	return p
}
