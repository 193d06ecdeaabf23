package model

// LikelyCauses are what to look for where a part came out otherwise than it should: wider
// (off positive) or narrower. What lies between flange and blade moves the cut away from the
// flange: a far flange makes the part narrower by it, a near one wider (common practice).
func LikelyCauses(flange Flange, off Length) string {
	if (flange == Near) == (off > 0) {
		return "dust or a burr under a ring or the blade, resin where the plate beds, a ring thicker than it is marked, the wrong blade, or a mistyped reading"
	}
	return "a ring in the flange relief, a ring thinner than it is marked or left out, a wobble that was not read, the wrong blade, or a mistyped reading"
}
