package stages

import (
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// Judge works out what the numbers say of a profile at a moment.
func Judge(p model.Profile, now time.Time) procedure.Plan { return solver.JudgeStrips(p, now) }
