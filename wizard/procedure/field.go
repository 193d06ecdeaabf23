package procedure

import (
	"time"

	"example.com/sawdatum/model"
	before "example.com/sawdatum/model/procedure"
)

// Field is one thing to type.
type Field = before.Field

// FieldKind says how a field's text is read.
type FieldKind = before.FieldKind

// The kinds of field.
const (
	FieldText     = before.FieldText
	FieldChoice   = before.FieldChoice
	FieldLength   = before.FieldLength
	FieldLengths  = before.FieldLengths
	FieldPairs    = before.FieldPairs
	FieldCount    = before.FieldCount
	FieldSeconds  = before.FieldSeconds
	FieldDegrees  = before.FieldDegrees
	FieldRings    = before.FieldRings
	FieldRing     = before.FieldRing
	FieldKit      = before.FieldKit
	FieldWord     = before.FieldWord
	FieldInitials = before.FieldInitials
	FieldExport   = before.FieldExport
)

// Fault is what is wrong with one field.
type Fault = before.Fault

// Export is a way of handing the profile on that the closing row was asked for.
type Export = before.Export

// State is what the records say; Plan what the numbers say at a moment; Judge works the
// plan out.
type (
	State = model.StripState
	Plan  = model.StripPlan
	Judge func(model.Profile, time.Time) Plan
)

func fold(p model.Profile) State { return model.FoldStrips(p) }

// ParseRings reads rings of the kit, flange first: by id or by thickness; none for no ring.
func ParseRings(p model.Profile, text string) ([]string, error) { return p.ParseStack(text) }

// ParsePairs reads settings and readings: 60=60.12 120=120.11.
func ParsePairs(text string, bare model.Unit) ([]model.Pair, error) {
	return before.ParsePairs(text, bare)
}

// ParseKit reads thicknesses with counts: 0.10x2 0.25, or 0.10 mm x2; bare is the unit of a bare
// number.
func ParseKit(text string, bare model.Unit) ([]model.Ring, error) { return model.ParseKit(text, bare) }
