package main

import (
	_ "embed"
	"fmt"
	"html"
	"strings"

	"afterpour/chem/input"
	"afterpour/econ"
)

//go:embed sheet.css
var sheetStyle string

// sheetHTML prints a sheet as one HTML file that needs nothing else.
func sheetHTML(s *econ.Sheet) string {
	w := &htmlSheet{}
	fmt.Fprintf(&w.b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"+
		"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"+
		"<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n", htmlText("Bench sheet: "+s.Lot), sheetStyle)
	s.Write(w)
	w.close()
	w.b.WriteString("</body>\n</html>\n")
	return w.b.String()
}

// htmlSheet writes HTML. Every text is cleaned and escaped.
type htmlSheet struct {
	b    strings.Builder
	list string // class of the list that is open; "" if none
	step bool   // a step is open
}

func htmlText(text string) string { return html.EscapeString(input.Clean(text, 0)) }

// in opens the list of that class, and closes another.
func (w *htmlSheet) in(class string) {
	if w.list == class {
		return
	}
	if w.list != "" {
		w.b.WriteString("</ul>\n")
	}
	if w.list = class; class != "" {
		fmt.Fprintf(&w.b, "<ul class=%q>\n", class)
	}
}

// close closes what is open.
func (w *htmlSheet) close() {
	w.in("")
	if w.step {
		w.b.WriteString("</section>\n")
	}
	w.step = false
}

// Title writes the first heading.
func (w *htmlSheet) Title(text string) { fmt.Fprintf(&w.b, "<h1>%s</h1>\n", htmlText(text)) }

// Section writes a heading.
func (w *htmlSheet) Section(text string) {
	w.close()
	fmt.Fprintf(&w.b, "<h2>%s</h2>\n", htmlText(text))
}

// Step begins a numbered step.
func (w *htmlSheet) Step(number int, title, of string) {
	w.close()
	w.step = true
	fmt.Fprintf(&w.b, "<section class=\"step\">\n<h3>%d. %s</h3>\n", number, htmlText(title))
	if of != "" {
		fmt.Fprintf(&w.b, "<p class=\"of\">%s</p>\n", htmlText(of))
	}
}

// Line writes a labelled sentence.
func (w *htmlSheet) Line(label, text string) {
	w.in("")
	fmt.Fprintf(&w.b, "<p><b>%s:</b> %s</p>\n", htmlText(label), htmlText(text))
}

// Point writes an item.
func (w *htmlSheet) Point(text string) {
	w.in("points")
	fmt.Fprintf(&w.b, "<li>%s</li>\n", htmlText(text))
}

// Action writes a box to tick.
func (w *htmlSheet) Action(letter, text string) {
	w.in("actions")
	if letter != "" {
		letter = "<b>" + htmlText(letter) + ".</b> "
	}
	fmt.Fprintf(&w.b, "<li><span class=\"box\"></span>%s%s</li>\n", letter, htmlText(text))
}

// Caution writes a framed warning; the word says its severity, not a colour.
func (w *htmlSheet) Caution(severity, text string) {
	w.in("")
	fmt.Fprintf(&w.b, "<p class=\"caution\"><b>%s</b> %s</p>\n", htmlText(strings.ToUpper(severity)), htmlText(text))
}

// Blank writes a line to write on.
func (w *htmlSheet) Blank(what, unit string) {
	w.in("blanks")
	fmt.Fprintf(&w.b, "<li>%s <span class=\"blank\"></span> %s</li>\n", htmlText(what), htmlText(unit))
}
