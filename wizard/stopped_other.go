//go:build !unix

package wizard

import "os"

// Continued never tells: programs cannot be stopped here.
func Continued() <-chan os.Signal { return nil }
