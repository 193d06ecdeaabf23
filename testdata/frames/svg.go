package main

import (
	"fmt"
	"html"
	"image/color"
	"strings"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/vt"
)

// ground is a terminal's background and what is written on it without a colour.
type ground struct {
	name       string
	back, fore string
}

var (
	dark  = ground{"dark", "#16181d", "#d7dae0"}
	light = ground{"light", "#fbfbf8", "#202226"}
)

// Cells are as wide and as high as DejaVu Sans Mono at 14 pixels.
const (
	cellWidth  = 8.43
	cellHeight = 17
	size       = 14
	margin     = 10
)

// picture is what stands on a terminal's screen, cell by cell.
func picture(screen *vt.SafeEmulator, g ground) string {
	w, h := screen.Width(), screen.Height()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%d" font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="%d">`,
		float64(w)*cellWidth+2*margin, h*cellHeight+2*margin, size)
	fmt.Fprintf(&b, "\n<rect width=\"100%%\" height=\"100%%\" fill=\"%s\"/>\n", g.back)
	for y := range h {
		for x := 0; x < w; {
			cell := screen.CellAt(x, y)
			if cell == nil {
				x++
				continue
			}
			text, from := cell.Content, x
			for x++; x < w; x++ { // cells of one style go into one element
				next := screen.CellAt(x, y)
				if next == nil || !next.Style.Equal(&cell.Style) {
					break
				}
				text += next.Content
			}
			run(&b, from, y, x-from, text, cell.Style, g)
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func run(b *strings.Builder, x, y, cells int, text string, s uv.Style, g ground) {
	fore, back := hex(s.Fg, g.fore), hex(s.Bg, g.back)
	if s.Attrs&uv.AttrReverse != 0 {
		fore, back = back, fore
	}
	left, top := margin+float64(x)*cellWidth, margin+y*cellHeight
	if back != g.back {
		fmt.Fprintf(b, "<rect x=\"%.2f\" y=\"%d\" width=\"%.2f\" height=\"%d\" fill=\"%s\"/>\n", left, top, float64(cells)*cellWidth, cellHeight, back)
	}
	if strings.TrimSpace(text) == "" {
		return
	}
	style := ""
	if s.Attrs&uv.AttrBold != 0 {
		style += ` font-weight="bold"`
	}
	if s.Attrs&uv.AttrFaint != 0 {
		style += ` opacity="0.65"`
	}
	if s.Underline != 0 {
		style += ` text-decoration="underline"`
	}
	at := 0
	for _, word := range strings.SplitAfter(text, " ") { // where glyphs are missing each word still stands in its column
		left := left + float64(at)*cellWidth
		at += len([]rune(word))
		switch word = strings.TrimRight(word, " "); {
		case word == "":
		case strings.Trim(word, "█") == "": // blocks join without a gap
			fmt.Fprintf(b, "<rect x=\"%.2f\" y=\"%d\" width=\"%.2f\" height=\"%d\" fill=\"%s\"%s/>\n", left, top, float64(len([]rune(word)))*cellWidth, cellHeight, fore, style)
		default:
			fmt.Fprintf(b, "<text x=\"%.2f\" y=\"%d\" textLength=\"%.2f\" lengthAdjust=\"spacingAndGlyphs\" fill=\"%s\"%s>%s</text>\n",
				left, top+cellHeight-4, float64(len([]rune(word)))*cellWidth, fore, style, html.EscapeString(word))
		}
	}
}

func hex(c color.Color, otherwise string) string {
	if c == nil {
		return otherwise
	}
	r, g, b, _ := c.RGBA()
	return fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)
}
