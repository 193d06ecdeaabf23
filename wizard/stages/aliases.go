package stages

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

const mm = model.Millimetre

type (
	context = procedure.Context
	taking  = procedure.Taking
	row     = procedure.Row
	field   = procedure.Field
	answers = procedure.Answers
	record  = model.Record
	reason  = model.Reason
)
