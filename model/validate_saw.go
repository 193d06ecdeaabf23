package model

import (
	"fmt"
	"slices"
	"strings"
)

func (v *validation) saw() {
	s := v.profile.Saw
	v.text("saw.label", s.Label)
	oneOf(v, "saw.tilt", s.Tilt, TiltLeft, TiltRight)
	oneOf(v, "saw.fence_side", s.FenceSide, SideLeft, SideRight)
	oneOf(v, "saw.flange", s.Flange, Far, Near)
	flange := v.wanted("saw.flange_diameter", s.FlangeDiameter, positive)
	relief := v.wanted("saw.flange_relief", s.FlangeRelief, notNegative)
	arbor := v.wanted("saw.arbor_diameter", s.ArborDiameter, positive)
	v.wanted("saw.thread_pitch", s.ThreadPitch, positive)
	v.wanted("saw.throat_length", s.ThroatLength, positive)
	v.thread()
	if flange && relief && s.FlangeRelief.Length >= s.FlangeDiameter.Length {
		v.add("saw.flange_relief", "write the inner diameter of its bearing rim", "the relief of %s is as large as the flange of %s", s.FlangeRelief, s.FlangeDiameter)
	}
	if flange && arbor && s.ArborDiameter.Length >= s.FlangeDiameter.Length {
		v.add("saw.arbor_diameter", "write the diameter that the bore fits", "the arbor of %s is as thick as the flange of %s", s.ArborDiameter, s.FlangeDiameter)
	}
}

// paperKeys are the keys of the saw that a manual can tell.
var paperKeys = []string{"tilt", "fence_side", "flange", "flange_diameter", "flange_relief", "arbor_diameter", "plain_part", "thread_end", "loose_flange", "nut", "thread_pitch", "throat_length", "spindle_speed", "motor_tilt", "contact_brake", "scoring"}

// thread is what the saw carries past its flange, and what else the manual tells.
func (v *validation) thread() {
	s := v.profile.Saw
	v.wanted("saw.plain_part", s.PlainPart, notNegative)
	v.wanted("saw.thread_end", s.ThreadEnd, positive)
	v.wanted("saw.loose_flange", s.LooseFlange, positive)
	v.wanted("saw.nut", s.Nut, positive)
	if s.ThreadEnd.Unit != NoUnit && s.ThreadEnd.Length > 0 {
		if s.PlainPart.Length >= s.ThreadEnd.Length {
			v.add("saw.plain_part", "measure both from the flange's face: to the first thread, and to the end of the thread", "the thread would begin at %s and end at %s", s.PlainPart, s.ThreadEnd)
		}
		if s.LooseFlange.Length+s.Nut.Length >= s.ThreadEnd.Length {
			v.add("saw.thread_end", "measure it from the flange's face to the end of the thread", "loose flange of %s and nut of %s do not go on a thread that ends at %s", s.LooseFlange, s.Nut, s.ThreadEnd)
		}
	}
	v.speed("saw.spindle_speed", s.SpindleSpeed)
	for i, a := range []YesNo{s.MotorTilt, s.ContactBrake, s.Scoring} {
		if a != "" {
			oneOf(v, "saw."+[]string{"motor_tilt", "contact_brake", "scoring"}[i], a, Yes, No)
		}
	}
	for i, key := range s.FromPaper {
		if !slices.Contains(paperKeys, key) {
			v.add(fmt.Sprintf("saw.from_paper[%d]", i), "write keys of saw that were read from the manual: "+strings.Join(paperKeys, ", "), "%q is none of them", Clip(key))
		}
	}
}

// speed is a number of turns a minute; zero: not known.
func (v *validation) speed(path string, rpm int) {
	if rpm < 0 || rpm > MaxSpeed {
		v.add(path, "write turns a minute, such as 4000 rpm", "%d rpm cannot be", rpm)
	}
}
