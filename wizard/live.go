package wizard

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
)

func (s scene) dial() picture.Picture {
	d := picture.Dial{Figures: picture.Figures{Unit: s.profile().Units, Resolution: s.profile().Instruments.Micrometer.Length}, What: "flange"}
	if s.view.Place.Step == "rim" {
		d.What = "rim of the " + bladeName(s.profile(), s.profile().Reference)
	}
	d.Readings = s.readings("dial")
	return d
}

func (s scene) scale() picture.Picture {
	return picture.FenceScale{Figures: s.figures(), Working: s.profile().WorkingWidth.Length, Tolerance: s.profile().Tolerance.Length}
}

// live is what follows from what is typed so far, before the place is whole.
func (s scene) live() []model.Reason { return nil }

func (s step) closing(w, h int) []string { return nil }
