// Package update gives tests the flag -update, once. A package without goldens imports it
// too where it is tested together with others that have some, since go test hands its flags
// to all of them.
package update

import "flag"

// Goldens is whether what tests compare with is to be written anew.
var Goldens = flag.Bool("update", false, "write anew what tests compare with, after looking at what changed")
