package tui

import (
	"io"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// tone is what a piece of text means. How a meaning looks is decided here and
// nowhere else; a sign or a word always says the same beside it.
type tone uint8

const (
	plain   tone = iota
	muted        // present, but not what one looks for
	strong       // a heading, a figure that decides
	accent       // where one is: cursor, open screen, field
	gain         // better than leaving the lot as it is
	loss         // worse than leaving it
	warn         // to be seen before going on
	liquor       // the drawn liquid
	settled      // the drawn solid
	toneCount
)

// palette gives the colours of one theme by ANSI 256 number; "" is the
// terminal's own. Blue and orange are told apart by nearly everyone.
type palette struct{ muted, accent, gain, loss, warn, liquor, settled lipgloss.Color }

var palettes = map[Theme]palette{
	Dark:  {muted: "246", accent: "75", gain: "75", loss: "215", warn: "215", liquor: "67", settled: "250"},
	Light: {muted: "240", accent: "25", gain: "25", loss: "130", warn: "130", liquor: "67", settled: "238"},
	Mono:  {},
}

// look is everything that the drawing needs to know of the terminal.
type look struct {
	styles   [toneCount]lipgloss.Style
	selected [toneCount]lipgloss.Style // the same in the row of the cursor
	signs    signs
}

// newLook builds the styles of a theme on a renderer.
func newLook(r *lipgloss.Renderer, theme Theme, ascii bool) look {
	p := palettes[theme]
	base := r.NewStyle()
	coloured := func(c lipgloss.Color) lipgloss.Style {
		if c == "" {
			return base
		}
		return base.Foreground(c)
	}
	l := look{signs: drawnSigns}
	if ascii {
		l.signs = asciiSigns
	}
	l.styles = [toneCount]lipgloss.Style{
		plain: base, muted: coloured(p.muted), strong: base.Bold(true),
		accent: coloured(p.accent).Bold(true), gain: coloured(p.gain), loss: coloured(p.loss),
		warn: coloured(p.warn).Bold(true), liquor: coloured(p.liquor), settled: coloured(p.settled),
	}
	for t, style := range l.styles {
		l.selected[t] = style.Bold(true)
	}
	return l
}

// newRenderer returns a renderer for the output that never asks the terminal
// anything: the profile comes from the environment, the background from the
// theme.
func newRenderer(w io.Writer, o Options) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(w)
	r.SetHasDarkBackground(o.Theme != Light)
	if o.NoColor {
		r.SetColorProfile(termenv.Ascii)
	}
	return r
}

// style returns how a tone looks, in the row of the cursor or elsewhere.
func (l look) style(t tone, selected bool) lipgloss.Style {
	if selected {
		return l.selected[t]
	}
	return l.styles[t]
}
