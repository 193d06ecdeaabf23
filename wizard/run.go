package wizard

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/wizard/background"
	"example.com/sawdatum/wizard/picture"
)

// frames is how many frames a second the terminal may be sent: the most that the
// library allows, so that a key is seen at once.
const frames = 120

// The window of a terminal that does not tell its size.
const usualWidth, usualHeight = 80, 24

// garbage is by how many percent the heap may grow before it is swept. It is small
// and every frame fills it anew: swept at the usual 100, that is an eighth of the work.
const garbage = 400

// Run leads through the procedure on the full screen. Whatever ends it, the terminal
// is left as it was found. The error is one line for people; Result says what became
// of the work also then.
func Run(o Options) (Result, error) {
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
		colourless()
	}
	chars := charset(os.Getenv)
	if o.ASCII {
		chars = picture.ASCII
	}
	var program *tea.Program
	first := newRoot(o, newLook(noColor, chars), newWatch(continued()))
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
		return Result{}, err
	}
	// what could not be saved, or was being saved when the program was told to end
	result := r.job.ended(r.saving || r.unsaved != nil)
	farewell(o.Out, r.job, result)
	return result, err
}

// heard drops what a cursor sends after each key, to say that it will not blink after
// all: nothing changes with it, and each frame drawn for it costs as much as the key's.
func heard(_ tea.Model, msg tea.Msg) tea.Msg {
	if fmt.Sprintf("%T", msg) == "cursor.blinkCanceled" {
		return nil
	}
	return msg
}

// farewell says where the work is, once the terminal is as it was.
func farewell(w io.Writer, j job, r Result) {
	for _, file := range j.files {
		fmt.Fprintln(w, "Written for others: "+printable(file))
	}
	if !differs(j.start, r.Profile) && j.store.Save != nil {
		fmt.Fprintln(w, "Nothing was accepted, so nothing was saved.")
		return
	}
	if j.aside != nil {
		for _, line := range j.aside.sentences(len(j.aside.Values)) {
			fmt.Fprintln(w, line)
		}
	}
	fmt.Fprintln(w, kept(j.store, j.saw != nil, r.Unsaved != nil))
	if j.store.Kept != nil && j.store.Kept() != "" {
		fmt.Fprintln(w, "The profile was in an older format or layout: it is kept as it was in "+printable(j.store.Kept())+".")
	}
	if !r.Finished && j.store.Save != nil {
		fmt.Fprintln(w, "Not finished: it goes on from there the next time, with isolation asked anew.")
	}
}

// kept says where the work is.
func kept(s Store, practice, unsaved bool) string {
	switch {
	case unsaved:
		return "The last answers are NOT saved."
	case s.Save == nil && practice:
		return "Nothing was written: this was practice."
	case s.Save == nil:
		return "Nothing was written."
	}
	return "Everything that was accepted is saved in " + printable(s.Path) + "."
}

// ended is how a run ended, after one more try to save where that is wanting.
func (j *job) ended(unsaved bool) Result {
	var err error
	if unsaved && j.store.Save != nil {
		_, err = j.store.Save(j.procedure.Profile())
		*j, err = j.placed(err)
	}
	return Result{Finished: j.finished(), Unsaved: err, Path: j.store.Path, Profile: j.procedure.Profile()}
}
