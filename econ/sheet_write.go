package econ

import (
	"fmt"
	"strings"
	"time"

	"afterpour/chem/route"
)

// SheetWriter takes a sheet down, part by part, in the order in which it is
// read. The texts are as the sheet has them: whoever writes them out passes them
// through the cleaner and escapes them for the form that he writes.
type SheetWriter interface {
	Title(text string)
	Section(text string)
	Step(number int, title, of string) // of: the route that it belongs to
	Line(label, text string)           // a labelled sentence
	Point(text string)                 // one of a list
	Action(letter, text string)        // something to do, to be ticked off
	Caution(severity, text string)
	Blank(what, unit string) // a line to write on
}

// Write hands the sheet to w. Cautions come before what they warn of.
func (s *Sheet) Write(w SheetWriter) {
	w.Title("Bench sheet: " + s.Lot)
	s.writeHead(w)
	s.points(w, "Before you begin", s.First)
	s.points(w, "What to wear", s.Wear)
	s.points(w, "What stands in the vessel", s.Holds)
	s.points(w, "What should come out", s.Makes)
	s.writeSupplies(w)
	for i := range s.Steps {
		if i == 0 {
			w.Section("Steps")
		}
		s.Steps[i].write(w)
	}
	s.writeLeft(w)
	s.points(w, "At the end", s.Last)
	w.Section("To note")
	for _, b := range s.Blanks {
		w.Blank(b.What, b.Unit)
	}
	if len(s.Steps) > 0 {
		s.points(w, "How the amounts were rounded", s.Rounding)
	}
}

func (s *Sheet) writeHead(w SheetWriter) {
	w.Line("Plan", s.PlanWords+".")
	w.Line("Its name", s.Plan)
	if !s.LotDate.IsZero() {
		w.Line("Lot described", s.LotDate.Format(time.DateOnly))
	}
	for i, text := range s.Standing {
		label := "Worth"
		if i > 0 {
			label = "Mind"
		}
		w.Line(label, text)
	}
	for _, c := range s.Warnings {
		w.Caution(c.Severity, c.Text)
	}
	for _, text := range s.Own {
		w.Caution(route.SeverityCaution, text)
	}
	for _, text := range s.Learned {
		w.Line("Your own figures", text)
	}
	w.Blank("date", "")
	w.Blank("worked by", "")
}

func (s *Sheet) points(w SheetWriter, title string, list []string) {
	if len(list) == 0 {
		return
	}
	w.Section(title)
	for _, text := range list {
		w.Point(text)
	}
}

func (s *Sheet) writeSupplies(w SheetWriter) {
	if len(s.Shopping) > 0 {
		w.Section("To have in the house")
	}
	for _, item := range s.Shopping {
		w.Action("", item.sentence())
	}
	if len(s.Tools) > 0 {
		w.Section("Vessels and tools")
	}
	for _, t := range s.Tools {
		w.Action("", capital(t.Name)+": "+t.For+".")
	}
	if len(s.Tests) > 0 {
		w.Section("Tests that the steps name")
	}
	for _, t := range s.Tests {
		w.Action("", fmt.Sprintf("%s. Takes %s. %s", capital(t.Name), t.Take, t.How))
	}
}

// sentence writes a supply on one line of the list.
func (i SheetSupply) sentence() string {
	text := capital(i.Name)
	if i.Strength != "" {
		text += ", " + i.Strength
	}
	text += ": " + i.Need
	if i.Have != "" {
		text += "; on the shelf " + i.Have
	}
	if i.Buy != "" {
		text += "; buy " + i.Buy
	}
	if i.Note != "" {
		text += " (" + i.Note + ")"
	}
	return text + "."
}

// write hands one step to w.
func (s *SheetStep) write(w SheetWriter) {
	of := s.RouteTitle
	if s.Own {
		of += " (your own route)"
	}
	w.Step(s.Number, s.Title, of)
	for _, c := range s.Cautions {
		w.Caution(c.Severity, c.Text)
	}
	if s.Time.Text != "" {
		w.Line("Time", s.Time.Text)
	}
	for _, text := range s.Notes {
		w.Line("Mind", text)
	}
	for i, text := range s.Do {
		w.Action(letter(i), text)
	}
	if len(s.Signs) > 0 {
		w.Line("Look for", strings.Join(s.Signs, " "))
	}
	if s.Stop != "" {
		w.Line("Done when", s.Stop)
	}
	for _, c := range s.Checks {
		w.Line("Expect", c.What+": "+c.Text)
	}
	for _, text := range s.Leaves {
		w.Line("Left over", text)
	}
	for _, b := range s.Blanks {
		w.Blank(b.What, b.Unit)
	}
}

// letter names the actions of a step: a to z, then a2 and so on.
func letter(i int) string {
	name := string(rune('a' + i%26))
	if i >= 26 {
		name += fmt.Sprint(i/26 + 1)
	}
	return name
}

func (s *Sheet) writeLeft(w SheetWriter) {
	if len(s.Left) == 0 {
		return
	}
	w.Section("What is left, and where it goes")
	for _, c := range s.Closing {
		w.Caution(c.Severity, c.Text)
	}
	for _, l := range s.Left {
		name := "“" + l.Name + "”"
		if l.Route != "" {
			name += " (" + l.Route + ")"
		}
		w.Action("", name+", "+l.Text)
	}
}
