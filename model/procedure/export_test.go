package procedure

// Known is what a run knows beside the records, without times and words. Two
// procedures with one Known, one head and one State go on alike.
type Known struct {
	Power                            Power
	Who, Fence, Stopped, Long, Slow  bool
	Adding, Rack, Rim, Reason, Sharp bool
	Seen                             bool
	Isolated, Held, Finished         bool
	Again                            Place
	Knife, Asked                     string
}

// Known tells tests what the run knows.
func (p Procedure) Known() Known {
	r := p.run
	return Known{
		Power: r.power, Who: r.who != "", Fence: p.FenceKnown(), Stopped: r.stopped, Long: r.runDown > longestRunDown, Slow: r.slow,
		Adding: r.adding, Rack: r.rack, Rim: r.rim, Seen: r.seen, Reason: r.reason, Sharp: r.sharp,
		Isolated: r.isolated, Held: r.held, Finished: r.finished,
		Again: r.again, Knife: r.knife, Asked: r.asked,
	}
}

// Steps lists the rows of the step table.
func Steps() []string {
	var out []string
	for key := range table {
		out = append(out, key)
	}
	return out
}
