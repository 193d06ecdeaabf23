package practice

import (
	"example.com/sawdatum/wizard/procedure"
)

type (
	context = procedure.Context
	answers = procedure.Answers
)
