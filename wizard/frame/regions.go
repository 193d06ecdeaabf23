package frame

import "example.com/sawdatum/wizard/picture"

// Regions are the rows of a step screen at one size. They are worked out once a visit:
// typing changes what stands in a region, never where it stands. At one size the answers,
// the field and the keys have the same rows on every step; orders and picture share what
// lies above them.
type Regions struct {
	W, H    int
	Rail    int  // columns of the stages at the left, the line behind them included; 0: none
	Air     int  // empty rows: below the strip, below the title, above the answers, above the keys
	Orders  int  // rows of orders and cautions, the figure beside them
	Beside  int  // columns of the figure; 0: none
	Alone   bool // the figure stands where the picture would
	Picture int
	Label   int // rows of the field's label and hint
	Said    int // rows of count or fault, and of what follows
}

// The rows that every step has, whatever its size: the strip of the saw's state, the title,
// the answers of the step, what is typed, the keys.
const (
	stripRows = 2
	fixedRows = stripRows + 4
)

// The least that a region is worth, and what the figure takes.
const (
	leastOrders   = 6 // five, and the caption of the figure or an empty row
	figureColumns = 24
	FigureRows    = 5
	besideFigure  = 40 // columns of orders that a figure leaves room for
	fullRail      = 31
	narrowRail    = 25 // the longest stage behind its mark
	ordersWidth   = 76 // of it the marks take four
	Margin        = 2
	SaidRows      = 3
	tallSaid      = 5 // in a window that is tall
)

// RegionsOf lays out a step. need is how many rows the orders take at a width; figure and
// drawn tell whether the step has a figure and a picture. The figure goes before the
// picture does; in a wide window it takes the place of one that there is not.
func RegionsOf(w, h int, need func(width int) int, figure, drawn bool) Regions {
	r := Regions{W: w, H: h, Label: 2, Said: SaidRows}
	switch {
	case wide(w, h):
		r.Rail, r.Air, r.Label = RailColumns(w), 4, 1
		if h < airyHeight {
			r.Air = 2
		}
		if h >= tallHeight {
			r.Said = tallSaid
		}
	case h >= FullHeight && w >= UsualWidth:
		r.Air, r.Label = 1, 1
	}
	if r.Alone = figure && !drawn && r.Rail > 0; r.Alone {
		figure, drawn = false, true
	}
	upper := h - fixedRows - r.Air - r.Label - r.Said
	lay := func(beside, least, gap int) bool {
		r.Beside = beside
		r.Orders = max(need(r.Text())+gap, least)
		r.Picture = upper - r.Orders
		return r.Picture >= picture.MinHeight
	}
	besides := figure && h >= FullHeight && r.Inner()-figureColumns > 0
	switch {
	case h < FullHeight || !drawn:
		beside := 0
		if besides && r.Inner()-figureColumns >= besideFigure+1 {
			beside = figureColumns
		}
		lay(beside, upper, 0)
		r.Orders, r.Picture = upper, 0
	case besides && lay(figureColumns, leastOrders, 0), lay(0, 1, 1), lay(0, 1, 0):
	default:
		r.Orders, r.Picture = upper, 0
	}
	return r
}

// Work is the width of the screen right of the rail.
func (r Regions) Work() int { return r.W - r.Rail }

// Text is the width of a line of orders.
func (r Regions) Text() int {
	if r.Beside > 0 {
		return min(r.Inner()-r.Beside-1, ordersWidth)
	}
	return min(r.Inner(), ordersWidth)
}

// Inner is the width between the margins of the work; the line behind the stages is margin enough.
func (r Regions) Inner() int {
	if r.Rail > 0 {
		return r.Work() - Margin
	}
	return r.Work() - 2*Margin
}

// RailColumns is how wide the stages are in a wide window.
func RailColumns(w int) int {
	if w-fullRail < UsualWidth {
		return narrowRail
	}
	return fullRail
}

func wide(w, h int) bool { return w >= WideWidth && h >= wideHeight }
