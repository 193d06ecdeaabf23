// Command sawdatum sets up a table saw so that every blade of the rack cuts at one
// line: it leads through the work, computes the shim rings, and keeps the saw's
// profile.
package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/screen"
)

func main() {
	screen.QuitQuietly()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// The exit statuses.
const (
	done     = 0
	answerNo = 1 // findings, a blade not in, a gate not passed
	misused  = 2 // usage, or input that cannot be read
)

// no is an answer of no. Without an error in it, all has been said on out.
type no struct{ error }

// byStatus marks the commands that have answered, or done what was asked, where only their exit
// status is read: for them a standard output that nobody reads is none that is missing.
var byStatus = map[string]string{"answers": "by its status"}

var errClosed = errors.New("standard output is closed: nothing can be told; where that is wanted, open the null device for writing only: >" + os.DevNull)

// outlet is standard output that remembers what kept it from being written.
type outlet struct {
	*os.File
	closed bool // from the start
	err    error
}

func (o *outlet) Write(b []byte) (n int, err error) {
	if err = errClosed; !o.closed {
		n, err = o.File.Write(b)
		if err != nil {
			err = fmt.Errorf("standard output: %w", err)
		}
	}
	o.err = cmp.Or(o.err, err)
	return n, err
}

// WriteString takes the place of the file's own, which would remember nothing.
func (o *outlet) WriteString(s string) (int, error) { return o.Write([]byte(s)) }

// run obeys one command line. An error is one line on errs.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	cobra.MousetrapHelpText = "" // a double click on Windows is a start like any other
	kept := &outlet{}
	if f, ok := out.(*os.File); ok {
		kept.File, kept.closed = f, isClosed(f)
		out = kept
	}
	root := commands(out)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetErr(errs)
	root.PersistentPreRunE = func(c *cobra.Command, _ []string) error {
		kept.closed = kept.closed && c.Annotations["answers"] == ""
		return noneEmpty(c)
	}
	err := root.Execute()
	var n no
	isNo := errors.As(err, &n)
	if kept.err != nil && (err == nil || errors.Is(err, kept.err) || isNo && n.error == nil) { // the answer was not said
		err, isNo = kept.err, false
	}
	if err != nil && (!isNo || n.error != nil) {
		fmt.Fprintln(errs, oneLine(err))
	}
	switch {
	case err == nil:
		return done
	case isNo:
		return answerNo
	}
	return misused
}

// oneLine is the first of the findings in a file, or the error as it is.
func oneLine(err error) string {
	var fs text.Findings
	if errors.As(err, &fs) && len(fs) > 1 {
		return fmt.Sprintf("%v (and %d more: sawdatum check lists them)", fs[0], len(fs)-1)
	}
	return text.Show(err.Error())
}

// settings are the options that every command takes, and --plain.
type settings struct {
	dir                                string
	plain, noColor, ascii, light, dark bool
}

// commands are the program's, told on out.
func commands(out io.Writer) *cobra.Command {
	s := &settings{}
	root := &cobra.Command{
		Use:               "sawdatum",
		Short:             "Set up a table saw so that every blade cuts at one line",
		Long:              about,
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		DisableAutoGenTag: true,

		SuggestionsMinimumDistance: 2,
		Args:                       knownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := s.lead(c, wizard.Options{Shelf: s.shelf()})
			return err
		},
	}
	root.SetOut(out) // before the commands that take hold of it as they are made
	root.SetVersionTemplate("sawdatum {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		what, _, _ := strings.Cut(err.Error(), ": strconv.") // names of Go
		return fmt.Errorf("%s: %s --help lists the options", what, c.CommandPath())
	})
	flags := root.PersistentFlags()
	flags.StringVar(&s.dir, "dir", "", "`folder` of the profiles; else $SAWDATUM_DIR, else the platform's data folder")
	flags.BoolVar(&s.noColor, "no-color", os.Getenv("NO_COLOR") != "", "no colours")
	flags.BoolVar(&s.ascii, "ascii", false, "plain characters only")
	flags.BoolVar(&s.light, "light", false, "draw for a light background")
	flags.BoolVar(&s.dark, "dark", false, "draw for a dark background")
	root.MarkPersistentFlagDirname("dir")
	root.SetHelpCommand(help())
	root.AddCommand(s.setup(), s.blade(), s.swap(), s.prove(), s.isolate(), s.practice(), s.layout(), s.shop(), s.plan(), stack(), s.check(), s.export(), s.take(), manual())
	needShell(root)
	return root
}

func isTerminal(stream any) bool {
	f, ok := stream.(interface{ Fd() uintptr })
	return ok && term.IsTerminal(f.Fd())
}

// version is that of the module as it was built.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}
