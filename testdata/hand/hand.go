// Package hand is the honest hand of the tests: what somebody types who does at the saw
// what the screen says, and reads it off there. It knows fields, and no step.
package hand

import (
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// Answer is what the honest hand types into a field of a view; saw is that of practice, nil
// where there is none, and typed what it typed before in the same view.
func Answer(v procedure.View, f procedure.Field, saw procedure.Saw, typed procedure.Answers) string {
	c := v.Context()
	for _, before := range v.Fields {
		if before.Key == f.Key {
			break
		}
		if before.Alone(typed[before.Key]) { // nothing else is asked
			return f.Value
		}
	}
	if f.Label == "Rings that came off" {
		on, known := c.Lock.On()
		rings := strings.Fields(on.Rings)
		if !known {
			rings = c.State.On.Rings
		}
		return strconv.Itoa(len(rings))
	}
	switch rack := c.Profile.Rack(); {
	case f.Key == "name": // written on the blade that belongs on
		return c.Name(c.Need.On.Blade)
	case f.Key == "knife" && f.Optional: // read off the one that is in
		if k, ok := c.Profile.KnifeByID(c.State.On.Knife); ok {
			return k.Thickness.String()
		}
		return ""
	case f.Key == "where" && c.Blade == c.State.On.Blade:
		return "isolate"
	case f.Key == "more" && len(rack) < len(blades):
		return blades[len(rack)]
	case f.Key == "teeth" && f.Value == "": // its name begins with them
		teeth, _, _ := strings.Cut(c.Name(c.Blade), "-")
		return teeth
	}
	if saw != nil {
		if text, ok := v.Read(saw, f.Key, typed); ok {
			return text
		}
	}
	switch own, ok := usual[f.Key]; {
	case f.Word != "":
		return f.Word
	case ok:
		return own
	case f.Optional:
		return f.Value
	}
	if _, example, ok := strings.Cut(f.Hint, "such as "); ok {
		example, _, _ = strings.Cut(example, ";")
		return example
	}
	if f.Value == "" && len(f.Options) > 0 {
		return f.Options[0]
	}
	return f.Value
}

// blades are put on a rack that has fewer.
var blades = []string{"48-tooth general", "24-tooth rip"}

// usual is what is typed where no example stands: nothing more to add, a saw that stands.
var usual = map[string]string{"answers": "mended", "more": "whole", "add": "whole", "done": "done", "by": "KB", "off": "still", "blades": "5", "blade": "none", "rings": "none", "standstill": "", "found": "keep"}

// Ready lists the blades of a plan that may be used, by name.
func Ready(p model.Plan) (ids []string) {
	for _, row := range p.Blades {
		if row.Usable() {
			ids = append(ids, row.ID)
		}
	}
	return ids
}
