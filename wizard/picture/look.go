// Package picture draws what the numbers of a saw mean, in characters and to
// scale. Every picture is a plain value; drawing it is a pure function of the value,
// the size and the look. Lengths across the blade follow the model: from the flange
// face, positive toward the fence.
package picture

// Charset says which characters the terminal can show.
type Charset uint8

// Blocks has eighth blocks and box lines; Lines is for consoles whose font has only
// box lines and the shades ░▒█; ASCII is for everything else.
const (
	Blocks Charset = iota
	Lines
	ASCII
)

// Kind says what a run of characters stands for, so that a face may colour it.
// Words and marks carry the meaning; colour only adds.
type Kind uint8

// The kinds of thing in a picture.
const (
	Plain  Kind = iota
	Faint       // scale, axes, what is only context
	Flange      // fixed flange, washer and nut
	Plate       // plate and teeth of a blade
	Ring
	Knife
	Stock // the part, the offcut
	Datum // the datum face, the limits of the tolerance
	Good  // inside the tolerance
	Danger
)

// Look is how to draw. Paint is what goes before a run of one kind and behind it, to
// colour it; nil leaves plain text.
//
// Blocks grow from the left of a cell, so the left edge of a bar is drawn to the
// nearest half. Where the terminal is known to show reverse video, Reverse makes it
// exact: Paint is then asked to show the run of that edge in reverse. Stripped of its
// attributes such a picture is wrong, so it is not the default.
type Look struct {
	Charset Charset
	Paint   func(kind Kind, reverse bool) (on, off string)
	Reverse bool
}

// Picture is one of the drawings of this package.
type Picture interface {
	// Draw returns exactly h lines of exactly w cells, joined by newlines; below
	// MinWidth by MinHeight a plain sentence padded to the size.
	Draw(w, h int, look Look) string
	// Sentence tells the same in one or two full sentences.
	Sentence() string
}

// The smallest size at which pictures are drawn.
const (
	MinWidth  = 30
	MinHeight = 6
)

// glyphs are the characters of a charset.
type glyphs struct {
	full                         rune
	flange, stock, offcut        rune
	vertical, horizontal, dashed rune
	left, right, up, down        rune // arrows
	dot, open                    rune // what is, what was
	from, to                     rune // the ends of a whisker
	high, low                    rune // a line at the top and at the bottom of a cell
	partial                      []rune
	cross                        rune
	cut                          rune // the end of a text that has no room
}

var glyphTable = [...]glyphs{
	Blocks: {full: '█', flange: '▓', stock: '▒', offcut: '░', vertical: '│', horizontal: '─', dashed: '┊', left: '◀', right: '▶', up: '▲', down: '▼', dot: '●', open: '○', from: '├', to: '┤', high: '▔', low: '▁', partial: []rune(" ▏▎▍▌▋▊▉█"), cross: '┼', cut: '…'},
	Lines:  {full: '█', flange: '▒', stock: '▒', offcut: '░', vertical: '│', horizontal: '─', dashed: '│', left: '<', right: '>', up: '^', down: 'v', dot: '*', open: 'o', from: '├', to: '┤', high: '─', low: '─', partial: []rune(" ░▒█"), cross: '┼', cut: '~'},
	ASCII:  {full: '#', flange: '%', stock: ':', offcut: '.', vertical: '|', horizontal: '-', dashed: '|', left: '<', right: '>', up: '^', down: 'v', dot: '*', open: 'o', from: '[', to: ']', high: '"', low: '_', partial: []rune(" =#"), cross: '+', cut: '~'},
}

func (c *canvas) glyphs() glyphs { return glyphTable[min(int(c.look.Charset), len(glyphTable)-1)] }
