package picture

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
}

var glyphTable = [...]glyphs{
	Blocks: {full: '█', flange: '▓', stock: '▒', offcut: '░', vertical: '│', horizontal: '─', dashed: '┊', left: '◀', right: '▶', up: '▲', down: '▼', dot: '●', open: '○', from: '├', to: '┤', high: '▔', low: '▁', partial: []rune(" ▏▎▍▌▋▊▉█"), cross: '┼'},
	Lines:  {full: '█', flange: '▒', stock: '▒', offcut: '░', vertical: '│', horizontal: '─', dashed: '│', left: '<', right: '>', up: '^', down: 'v', dot: '*', open: 'o', from: '├', to: '┤', high: '─', low: '─', partial: []rune(" ░▒█"), cross: '┼'},
	ASCII:  {full: '#', flange: '%', stock: ':', offcut: '.', vertical: '|', horizontal: '-', dashed: '|', left: '<', right: '>', up: '^', down: 'v', dot: '*', open: 'o', from: '[', to: ']', high: '"', low: '_', partial: []rune(" =#"), cross: '+'},
}

func (c *canvas) glyphs() glyphs { return glyphTable[min(int(c.look.Charset), len(glyphTable)-1)] }
