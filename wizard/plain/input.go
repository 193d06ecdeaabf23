package plain

import (
	"bufio"
	"errors"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

// ending reads from in until somebody ends the program from outside: ctrl+c, a terminal that
// hangs up. The run is then left as by /quit, and whoever did it is told what is not saved.
type ending struct {
	in    io.Reader
	ended <-chan os.Signal
	read  chan chunk // answered once for each time that it is asked
	asked bool
	rest  []byte
}

type chunk struct {
	bytes []byte
	err   error
}

func untilEnded(in io.Reader) *ending {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	return &ending{in: in, ended: c, read: make(chan chunk, 1)}
}

func (e *ending) Read(p []byte) (int, error) {
	if len(e.rest) == 0 {
		if !e.asked {
			e.asked = true
			go func() {
				b := make([]byte, 4096)
				n, err := e.in.Read(b)
				e.read <- chunk{b[:n], err}
			}()
		}
		select {
		case <-e.ended:
			return 0, errLeft
		case c := <-e.read:
			e.asked, e.rest = false, c.bytes
			if len(c.bytes) == 0 {
				return 0, c.err
			}
		}
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	return n, nil
}

// line reads one line. Input that ends before the end of a line is not an answer.
func (p *plain) line() (string, error) {
	var b []byte
	for {
		part, err := p.in.ReadSlice('\n')
		if len(b) <= lineLimit {
			b = append(b, part...)
		}
		if err == nil {
			break
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			p.say("")
			if errors.Is(err, errLeft) {
				return "", err
			}
			return "", errEnded
		}
	}
	return strings.TrimSpace(string(b)), nil
}

var (
	errLeft  = errors.New("left before the end")
	errEnded = errors.New("the input ended before the question was answered")
)
