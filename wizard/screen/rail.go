package screen

import (
	"strconv"

	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
)

// stageNames are the eleven stages, in their order.
var stageNames = [...]string{"isolate and clear", "saw", "arbor", "rack", "mount reference", "gauge board", "knife", "fence scale", "reference strips", "compare", "close"}

// railLines are the eleven stages, the present one opened to its steps.
func (s step) railLines(w, h int) []string {
	var out []string
	at := 0
	open, seen := map[int]bool{}, map[int]bool{}
	for _, p := range s.places {
		open[p.Stage], seen[p.Stage] = open[p.Stage] || !p.Done, true
	}
	if s.job.Procedure.Options().Mode != procedure.Setup {
		return s.steps(s.places, w)
	}
	for i, name := range stageNames {
		n := i + 1
		mark, style := s.look.Dim.Render(s.look.Come), s.look.Dim
		switch {
		case n == s.place.Stage:
			mark, style, at = s.look.Focus.Render(s.look.Now), s.look.Focus, len(out)
		case !open[n] && (seen[n] || n < s.place.Stage):
			mark = s.look.Good.Render(s.look.Done)
		}
		out = append(out, mark+" "+style.Render(frame.Right(strconv.Itoa(n), 2)+" "+name))
		if n == s.place.Stage {
			var of []procedure.PlaceStatus
			for _, p := range s.places {
				if p.Stage == n {
					of = append(of, p)
				}
			}
			steps := s.steps(of, w-5)
			for j := range steps {
				if of[j].Current {
					at = len(out) + j
				}
			}
			out = append(out, frame.Padded(steps, 5)...)
		}
	}
	return frame.Window(out, at, h)
}

func (s step) steps(places []procedure.PlaceStatus, w int) []string {
	var out []string
	for _, p := range places {
		mark, style := s.look.Dim.Render(s.look.Come), s.look.Dim
		switch {
		case p.Current:
			mark, style = s.look.Focus.Render(s.look.Now), s.look.Focus
		case p.Done:
			mark = s.look.Good.Render(s.look.Done)
		}
		out = append(out, mark+" "+style.Render(s.look.Clipped(p.Title, w-2)))
	}
	return out
}
