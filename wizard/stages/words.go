package stages

import "example.com/sawdatum/model"

// american reports whether the shop goes by the rules of the United States.
func american(c context) bool { return c.Profile.Rules == model.RulesUS }

// gateWords are plain words of wood and workshop, easy to read and to type. One is shown
// at a gate, another the next time.
var gateWords = [64]string{
	"acacia", "alder", "apple", "aspen", "awl", "balsa", "bamboo", "basket",
	"beech", "bench", "birch", "bodkin", "bucket", "candle", "cedar", "chalk",
	"cherry", "chisel", "cork", "cypress", "dowel", "ebony", "elm", "fir",
	"gimlet", "glue", "hammer", "hazel", "hickory", "hinge", "hornbeam", "juniper",
	"ladder", "larch", "laurel", "ledger", "lime", "linden", "mallet", "maple",
	"mortar", "oak", "olive", "pear", "pencil", "pepper", "pine", "plum",
	"poplar", "rasp", "rivet", "rowan", "sapele", "shelf", "spruce", "square",
	"teak", "tenon", "trestle", "walnut", "wedge", "willow", "window", "yew",
}

// gateWord is the word of the next gate. It differs from one gate to the next: the stride
// is odd, and so all words come before one comes again.
func gateWord(c context) string {
	seed := c.Options.Seed
	first, stride := seed%64, seed/64%32*2+1
	return gateWords[(first+stride*uint64(c.Gates))%64]
}
