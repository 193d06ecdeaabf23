package screen

import (
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// In a narrow rail numbers stand close to their marks, and steps are set in less.
const (
	longest = 2 + len("isolate and clear") // with its mark and a blank
	least   = 19                           // of a step below its stage
)

// railLines are the eleven stages, the present one opened to its steps; of a run of few steps,
// such as a swap, those.
func (s step) railLines(w, h int) []string {
	var out []string
	at := 0
	open, seen := map[int]bool{}, map[int]bool{}
	for _, p := range s.places {
		open[p.Stage], seen[p.Stage] = open[p.Stage] || !p.Done, true
	}
	if !tell.Staged(s.job.Procedure) {
		out, at = s.steps(s.withBegun(s.places), w)
		return frame.Window(out, at, h)
	}
	for i, name := range procedure.Stages {
		n := i + 1
		mark, style := s.look.Dim.Render(s.look.Come), s.look.Dim
		switch {
		case n == s.place.Stage:
			mark, style, at = s.look.Focus.Render(s.look.Now), s.look.Focus, len(out)
		case !open[n] && (seen[n] || n < s.place.Stage):
			mark = s.look.Good.Render(s.look.Done)
		}
		out = append(out, mark+style.Render(frame.Right(strconv.Itoa(n), min(3, w-longest))+" "+name))
		if n == s.place.Stage {
			var of []procedure.PlaceStatus
			for _, p := range s.places {
				if p.Stage == n {
					of = append(of, p)
				}
			}
			in := min(5, w-least)
			steps, now := s.steps(s.withBegun(s.byBlade(of)), w-in)
			at = len(out) + now
			out = append(out, frame.Padded(steps, in)...)
		}
	}
	return frame.Window(out, at, h)
}

// steps are places, a line or two each, and the line of the present one. What comes before a
// place, isolation or a blade that has to go on, stands there while it is at work.
func (s step) steps(places []procedure.PlaceStatus, w int) (out []string, at int) {
	for _, p := range places {
		if p.Current && p.Place != s.place.Place {
			at = len(out)
			out = append(out, frame.Wrapped(s.look.Focus.Render(s.look.Now)+" ", s.place.Title, w, s.look.Focus)...)
			p.Current = false
		}
		mark, style := s.look.Dim.Render(s.look.Come), s.look.Dim
		switch {
		case p.Current:
			mark, style, at = s.look.Focus.Render(s.look.Now), s.look.Focus, len(out)
		case p.Done:
			mark = s.look.Good.Render(s.look.Done)
		}
		out = append(out, frame.Wrapped(mark+" ", p.Title, w, style)...)
	}
	return out, at
}

// withBegun has other work, which stands in no trail, before what is still to be done.
func (s step) withBegun(places []procedure.PlaceStatus) []procedure.PlaceStatus {
	if !s.place.Begun {
		return places
	}
	at := slices.IndexFunc(places, func(p procedure.PlaceStatus) bool { return !p.Done })
	if at < 0 {
		at = len(places)
	}
	return slices.Insert(slices.Clone(places), at, procedure.PlaceStatus{Place: s.place.Place, Title: s.place.Title, Current: true})
}

// byBlade has one line for the places of a blade that follow each other, by its name: the title
// of the screen says which of them is at work. Such a line is whatever is at work there.
func (s step) byBlade(places []procedure.PlaceStatus) (out []procedure.PlaceStatus) {
	for _, p := range places {
		b, is := s.job.Procedure.Profile().BladeByID(p.Place.Blade)
		last := len(out) - 1
		if !is || last < 0 || out[last].Place.Blade != b.ID {
			if strings.HasPrefix(p.Title, b.Name()+": ") {
				p.Title = b.Name()
			}
			out = append(out, p)
			continue
		}
		out[last].Title = b.Name()
		out[last].Done = out[last].Done && p.Done
		out[last].Current = out[last].Current || p.Current
	}
	for i, p := range out {
		if b, is := s.job.Procedure.Profile().BladeByID(p.Place.Blade); is && p.Title == b.Name() {
			out[i].Place = s.place.Place
		}
	}
	return out
}
