//go:build !unix

package wizard

import "os"

// continued never tells: programs cannot be stopped here.
func continued() <-chan os.Signal { return nil }
