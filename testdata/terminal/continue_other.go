//go:build !unix

package terminal

import "errors"

var errNotHere = errors.New("programs are not stopped and continued on this system")

// Stop fails here.
func (t *Terminal) Stop() error { return errNotHere }

// Continue fails here.
func (t *Terminal) Continue() error { return errNotHere }
