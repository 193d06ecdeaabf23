package procedure

// gateWords are plain words of wood and workshop, easy to read and to type. One is
// shown at a gate, another the next time.
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

// word is the gate's word after so many gates: it differs from one gate to the
// next, since the stride is odd and so visits all words before one comes again.
func word(seed uint64, gates int) string {
	first, stride := seed%64, seed/64%32*2+1
	return gateWords[(first+stride*uint64(gates))%64]
}
