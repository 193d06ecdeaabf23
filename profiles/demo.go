package profiles

import (
	_ "embed" // the invented shop

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

//go:embed demo.yaml
var demo []byte

// Demo is the profile of an invented shop with nothing done yet, to look around and
// to practise in.
func Demo() model.Profile {
	p, findings := text.Parse("demo.yaml", demo)
	if len(findings.Faults()) > 0 {
		panic(findings) // a test reads it
	}
	return p
}
