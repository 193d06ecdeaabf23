package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// escapeTime is how long a bare Esc is held back: on a slow line an arrow key comes
// as Esc and, a moment later, the rest of its sequence, which must neither leave a
// place nor be typed into a field.
const escapeTime = 100 * time.Millisecond

// escape holds back a bare Esc until it is known not to begin a sequence, and
// swallows the sequence that follows one.
type escape struct {
	held  bool
	inCSI bool // in a sequence that began with [
	inSS3 bool // in one that began with O
	turn  int  // tells a late timer from the present one
}

type escapeMsg int

// filter returns the messages that go on to the screens.
func (e escape) filter(msg tea.Msg) (escape, []tea.Msg, tea.Cmd) {
	if late, ok := msg.(escapeMsg); ok {
		if int(late) != e.turn {
			return e, nil, nil
		}
		held := e.held
		e = escape{turn: e.turn}
		if held {
			return e, []tea.Msg{tea.KeyMsg{Type: tea.KeyEsc}}, nil
		}
		return e, nil, nil
	}
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return e, []tea.Msg{msg}, nil
	}
	if k.Type == tea.KeyEsc && !k.Alt {
		held := e.held
		e, cmd := e.wait(escape{held: true})
		if held {
			return e, []tea.Msg{k}, cmd
		}
		return e, nil, cmd
	}
	if k.Type == tea.KeyRunes && !k.Paste && (e.held || k.Alt && len(k.Runes) == 1 || e.inCSI || e.inSS3) {
		return e.sequence(k)
	}
	if e.held {
		e.held = false
		return e, []tea.Msg{tea.KeyMsg{Type: tea.KeyEsc}, msg}, nil
	}
	return e, []tea.Msg{msg}, nil
}

// wait starts the timer that ends what begins now.
func (e escape) wait(next escape) (escape, tea.Cmd) {
	next.turn = e.turn + 1
	return next, tea.Tick(escapeTime, func(time.Time) tea.Msg { return escapeMsg(next.turn) })
}

// sequence swallows runes up to the end of a sequence, and passes on what follows.
func (e escape) sequence(k tea.KeyMsg) (escape, []tea.Msg, tea.Cmd) {
	runes := k.Runes
	if !e.inCSI && !e.inSS3 {
		switch runes[0] {
		case '[':
			e.inCSI = true
		case 'O':
			e.inSS3 = true
		default:
			if !e.held {
				return e, []tea.Msg{k}, nil
			}
			e.held = false
			return e, []tea.Msg{tea.KeyMsg{Type: tea.KeyEsc}, k}, nil
		}
		runes = runes[1:]
	}
	for len(runes) > 0 && (e.inCSI || e.inSS3) {
		ended := e.inSS3 || runes[0] >= 0x40 && runes[0] <= 0x7e
		runes = runes[1:]
		if ended {
			e.inCSI, e.inSS3 = false, false
		}
	}
	next, cmd := e.wait(escape{inCSI: e.inCSI, inSS3: e.inSS3})
	if len(runes) == 0 {
		return next, nil, cmd
	}
	return next, []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: runes}}, cmd
}
