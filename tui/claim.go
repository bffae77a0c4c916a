package tui

import (
	"fmt"
	"path/filepath"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// claim is a figure on the screen that can be asked where it comes from.
type claim struct {
	label   string // what it is the figure of
	value   string // as shown, with its unit
	why     route.Why
	inputs  []input.Ref // where they are not in why
	inputID string      // of one more, by its id: a price; "" for none
	facts   []string    // what else is known of it

	questions []string // for econ.Why, which then answers instead
}

// explain writes out where a figure comes from: how it was worked out, from
// which inputs, each with the text that was typed, and by which sources.
func (l look) explain(c *claim, figures *input.Figures, width int) []line {
	lines := l.paragraph(strong, "", c.label+": "+c.value, width)
	lines[0] = lines[0].at("claim", nil)
	if c.why.Formula != "" {
		lines = append(lines, l.headed("Worked out as", []string{c.why.Formula}, width)...)
	}
	if c.why.Reason != "" {
		lines = append(lines, l.headed("Because", []string{c.why.Reason}, width)...)
	}
	if len(c.facts) > 0 {
		lines = append(lines, l.headed("In detail", c.facts, width)...)
	}
	if refs := c.refs(figures); len(refs) > 0 {
		lines = append(lines, l.head("From these inputs")...)
		for _, ref := range refs {
			lines = append(lines, l.origin(figures.Get(ref), width)...)
		}
	}
	if len(c.why.Sources) > 0 {
		lines = append(lines, l.headed("Sources", c.why.Sources, width)...)
	}
	if len(lines) == 1 {
		lines = append(lines, text(muted, ""), text(muted, "Nothing is noted about where this figure comes from."))
	}
	return lines
}

// refs lists the inputs of a claim, each once.
func (c *claim) refs(figures *input.Figures) []input.Ref {
	refs := append(c.why.Inputs.Refs(), c.inputs...)
	if ref, ok := figures.ByID(c.inputID); ok {
		refs = append(refs, ref)
	}
	seen := map[input.Ref]bool{}
	var list []input.Ref
	for _, r := range refs {
		if !seen[r] && r != input.NoRef {
			seen[r] = true
			list = append(list, r)
		}
	}
	return list
}

// head begins a part of a page.
func (l look) head(title string) []line {
	row := text(muted, l.signs.part+" ").with(strong, title)
	row.part = true
	return []line{text(plain, ""), row}
}

// headed is a part with one paragraph for each text.
func (l look) headed(title string, texts []string, width int) []line {
	lines := l.head(title)
	for _, s := range texts {
		p := l.paragraph(plain, "  ", s, width)
		p[0] = p[0].at(title+s, nil)
		lines = append(lines, p...)
	}
	return lines
}

// origin shows one input: its id, what was typed, and who says so.
func (l look) origin(f input.Figure, width int) []line {
	row := l.inputLine(f).at(f.ID, nil)
	where := f.Origin.String()
	if f.File != "" && f.Position.Line > 0 {
		where += fmt.Sprintf(", %s line %d", filepath.Base(f.File), f.Position.Line)
	}
	if f.Source != "" {
		where += ": " + strings.TrimPrefix(f.Source, f.Origin.String()+"; ")
	}
	if f.Text != "" && f.Dist.Shape != units.Exact && !strings.Contains(f.Text, "±") && !strings.Contains(f.Text, "..") {
		where = "taken as " + units.FormatDist(f.Kind, f.Dist) + "; " + where
	}
	return append([]line{row}, l.paragraph(muted, "    ", where, width)...)
}

// inputLine is an input by its id, with the text that was typed for it.
func (l look) inputLine(f input.Figure) line {
	value := f.Text
	if value == "" {
		value = units.FormatDist(f.Kind, f.Dist)
	}
	return text(accent, "  "+f.ID).with(plain, "  "+value)
}
