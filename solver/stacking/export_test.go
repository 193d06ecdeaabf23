package stacking

// What tests of the plan take from the tests of stacks.
var (
	BruteRack  = bruteRack
	BruteStack = bruteStack
	Symmetric  = need
)
