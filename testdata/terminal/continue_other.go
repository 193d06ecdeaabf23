//go:build !unix

package terminal

import "errors"

// Continue fails: programs cannot be stopped here.
func (t *Terminal) Continue() error { return errors.New("programs are not stopped here") }
