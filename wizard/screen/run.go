// Package screen is the full-screen face of a run.
package screen

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/background"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/tell"
)

// frames is how many frames a second the terminal may be sent: the most that the
// library allows, so that a key is seen at once.
const frames = 120

// garbage is how far the heap may grow before it is collected, in percent. The heap is small
// and every frame fills it again: at the usual 100, collecting it takes an eighth of the time.
const garbage = 400

// Run leads through the procedure on the full screen. Whatever ends it, the terminal
// is left as it was found. The error is one line for people; Result holds
// also then what was done.
func Run(o wizard.Options) (wizard.Result, error) {
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	defer debug.SetGCPercent(debug.SetGCPercent(garbage))
	background.Set(!o.Light)
	noColor := o.NoColor || lipgloss.ColorProfile() == termenv.Ascii
	if noColor {
		frame.Colourless()
	}
	chars := frame.Charset(os.Getenv)
	if o.ASCII {
		chars = picture.ASCII
	}
	var program *tea.Program
	first := newRoot(o, frame.NewLook(noColor, chars), wizard.NewWatch(wizard.Continued()))
	first.retake = func() {
		_ = program.ReleaseTerminal()
		_ = program.RestoreTerminal()
	}
	program = tea.NewProgram(first,
		tea.WithAltScreen(), tea.WithFPS(frames), tea.WithFilter(heard), tea.WithInput(o.In), tea.WithOutput(o.Out))
	defer attend(program)()
	last, err := program.Run()
	if errors.Is(err, tea.ErrProgramPanic) {
		err = errors.New("internal error: everything that was accepted before is saved")
	}
	if errors.Is(err, tea.ErrProgramKilled) || errors.Is(err, tea.ErrInterrupted) {
		err = errors.New("ended from outside")
	}
	r, ok := last.(root)
	if !ok || !r.working {
		return wizard.Result{}, err
	}
	// what could not be saved, or was being saved when the program was told to end
	result := r.job.Ended(r.saving || r.unsaved != nil)
	tell.Farewell(o.Out, r.job, result)
	return result, err
}

// heard drops the message by which a cursor calls its blinking off after each key: nothing
// changes by it, and the frame drawn for it costs as much as that of the key.
func heard(_ tea.Model, msg tea.Msg) tea.Msg {
	if fmt.Sprintf("%T", msg) == "cursor.blinkCanceled" {
		return nil
	}
	return msg
}
