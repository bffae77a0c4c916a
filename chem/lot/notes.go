package lot

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// NoteKind says what a note is about.
type NoteKind string

// The kinds of note.
const (
	Conflict   NoteKind = "conflict"   // statements that contradict each other
	Assumption NoteKind = "assumption" // something taken for granted
	Missing    NoteKind = "missing"    // something that would be needed to say more
	Caution    NoteKind = "caution"    // something to test or to beware of
)

// Note is one sentence about the lot that belongs on the screen.
type Note struct {
	Kind   NoteKind
	Text   string
	Inputs []input.Ref // figures that it is about; may be empty
}

// notebook collects notes.
type notebook struct {
	m    *Model
	r    *Report
	inv  Inventory
	v    input.Values
	list []Note
}

func (n *notebook) add(kind NoteKind, refs []input.Ref, format string, args ...any) {
	n.list = append(n.list, Note{Kind: kind, Text: fmt.Sprintf(format, args...), Inputs: refs})
}

// notes says what a reader of the report has to know besides its figures:
// conflicts first, then what is missing, assumed, and to be careful about.
func (m *Model) notes(r *Report, inv Inventory, v input.Values) []Note {
	n := &notebook{m: m, r: r, inv: inv, v: v}
	n.metals()
	n.silverAgainstChloride()
	n.acid()
	n.oxidant()
	if inv.Crowded {
		n.add(Conflict, nil, "The volume of %s is too small for what is stated to be dissolved in it.", units.Format(units.VolumeKind, float64(inv.Volume)))
	}
	n.missing()
	n.assumptions()
	n.cautions()
	return n.list
}

func mass(kg, sd units.Mass) string {
	return units.FormatDist(units.MassKind, units.NormalDist(float64(kg), float64(sd)))
}

func moles(mol float64) string { return units.Format(units.AmountKind, mol) }

// shortP is a probability with two digits.
func shortP(p float64) string {
	if p < 1e-4 {
		return "less than 0.0001"
	}
	return strconv.FormatFloat(p, 'g', 2, 64)
}

// metals says where the statements about a metal contradict each other.
func (n *notebook) metals() {
	for k := range n.m.metals {
		mt := &n.m.metals[k]
		n.torn(k, "dissolved", mt.liquid.combination, "disagree")
		n.torn(k, "solid", mt.solid.combination, "disagree")
		switch mt.mode {
		case liquidSplits:
			n.torn(k, "total dissolved", mt.total.combination, "cannot both hold: there is more in the liquid than went in")
		case solidSplits:
			n.torn(k, "total solid", mt.total.combination, "cannot both hold: there is more in the solid than went in")
		case bothPhases:
			n.torn(k, "total", mt.total.combination, "disagree")
		}
		if n.m.overdrawn(n.m.settle(n.v), k) {
			n.add(Conflict, n.r.Metals[k].Inputs, "%s: more was taken out than went in.", mt.symbol)
		}
	}
}

// torn says which statements of the kinds named by of contradict each other.
func (n *notebook) torn(k int, of string, c combination, verb string) {
	if c.freedom < 1 || !c.disagrees() {
		return
	}
	r := &n.r.Metals[k]
	var words []string
	for _, e := range r.Estimates {
		if strings.Contains(of, e.Of) {
			words = append(words, e.Label+" "+mass(e.Mass, e.SD))
		}
	}
	n.add(Conflict, r.Inputs, "%s: %s %s (p = %s); the doubt of all the %s is widened to %s.",
		r.Metal, strings.Join(words, ", "), verb, shortP(c.p), r.Metal, mass(r.Contained, r.SD))
}

// silverAgainstChloride says where silver was found in a liquid that should
// hold none.
func (n *notebook) silverAgainstChloride() {
	m := n.m
	st := m.settle(n.v)
	if !m.silverAgainstChloride(st) {
		return
	}
	liquid := m.phaseMol(&m.metals[m.silver].liquid, st)
	n.add(Conflict, n.r.Metals[m.silver].Inputs,
		"Ag: %s of chloride was poured in, more than the %s of silver that went in, and yet the liquid is stated to hold %s of silver.",
		moles(st.chloride), moles(st.source[m.silver]), moles(liquid))
}

// acid says what is known of the free acid and where it contradicts itself.
func (n *notebook) acid() {
	a, r := &n.m.acid, &n.r.Acid
	switch {
	case a.fromSources && len(a.statements) == 0 && r.Disagree:
		n.add(Conflict, r.Inputs, "Acid: dissolving the metal stated takes at least %s more acid than the %s poured in; either there is less metal or there was more acid.",
			moles(-n.m.settle(n.v).acidLeft()), moles(n.m.settle(n.v).acidPoured))
	case r.Disagree && len(a.top.weights) > 0 && a.top.disagrees():
		n.add(Conflict, r.Inputs, "Acid: what was poured in less what dissolving used leaves %s to %s, but %s; the doubt is widened to %s.",
			moles(math.Max(0, r.LowMol)), moles(math.Max(0, r.HighMol)), n.foundWords(), doubtfulMoles(r.FreeMol, r.SD))
	case r.Disagree:
		n.add(Conflict, r.Inputs, "Acid: %s; the doubt is widened to %s.", n.foundWords(), doubtfulMoles(r.FreeMol, r.SD))
	case n.m.no2 != input.NoRef && len(a.statements) == 0 && r.HighMol > 0:
		n.add(Assumption, []input.Ref{n.m.no2}, "Free acid is unmeasured: from %s, had all the acid reaction run to nitrogen dioxide, to %s, had it run to nitric oxide. A pH or a titration of the acid narrows it.",
			moles(math.Max(0, r.LowMol)), moles(r.HighMol))
	}
}

func doubtfulMoles(mol, sd float64) string {
	return units.FormatDist(units.AmountKind, units.NormalDist(mol, sd))
}

func (n *notebook) foundWords() string {
	var words []string
	for _, e := range n.r.Acid.Estimates {
		if e.Label != labelAcidLeft {
			words = append(words, e.Label+" says "+doubtfulMoles(e.Mol, e.SD))
		}
	}
	return strings.Join(words, " and ")
}

// oxidant says where more iron(III) was used than there was.
func (n *notebook) oxidant() {
	st := n.m.settle(n.v)
	for _, id := range n.m.oxidants {
		left := st.brought[id]
		for i := range n.m.paths {
			p := &n.m.paths[i]
			for _, b := range p.branches {
				for _, t := range b.terms {
					if t.Species == id && t.Nu < 0 {
						left += t.Nu * st.pathMol[i] * st.scale[p.metal]
					}
				}
			}
		}
		if name := id.Species().Title; left < -1e-6*st.brought[id] {
			n.add(Conflict, nil, "%s: the metal stated takes %s more than was poured in; air may have made up for it.", name, moles(-left))
		}
	}
}

// missing says what would have to be known.
func (n *notebook) missing() {
	m := n.m
	if m.volumeFrom == noVolume && len(m.lot.Measured)+len(m.lot.Titrated) > 0 {
		n.add(Missing, nil, "The volume of the liquid is not stated: what was measured by the litre cannot be counted.")
	}
	if len(m.solids) > 1 && m.solidAssayed() {
		n.add(Assumption, nil, "There are several solids: an assay of the solid is taken to be of all of them mixed.")
	}
	for k := range m.metals {
		mt := &m.metals[k]
		if mt.mode == phasesOnly && len(mt.liquid.statements) == 0 && m.volumeFrom == statedVolume {
			n.add(Missing, nil, "%s: nothing is stated of the liquid; only the solid is counted.", mt.symbol)
		}
	}
	for k := range m.metals {
		if mt := &m.metals[k]; m.isEtchant(mt.symbol) && !m.poursMetal(mt.symbol) {
			n.add(Missing, nil, "%s: the etchant itself is not stated; add it as [[added]], since what it brought is not counted.", mt.symbol)
		}
	}
	for _, t := range m.lot.Taken {
		if k := m.index(t.Metal); k >= 0 && !m.metals[k].sourced {
			n.add(Missing, []input.Ref{t.Mass}, "%s was taken out, but nothing is stated to have gone in; measurements of what stands there already allow for it.", t.Metal)
		}
	}
}

// isEtchant reports whether a piece was dissolved by a salt of the metal.
func (m *Model) isEtchant(symbol string) bool {
	for i := range m.paths {
		if etchants[m.paths[i].agent] == symbol {
			return true
		}
	}
	return false
}

func (m *Model) poursMetal(symbol string) bool {
	for i := range m.pours {
		for _, t := range m.pours[i].enters {
			if t.Species.Species().Formula.Atoms(symbol) > 0 {
				return true
			}
		}
	}
	return false
}

func (m *Model) solidAssayed() bool {
	for _, s := range m.lot.Measured {
		if s.In == InSolid {
			return true
		}
	}
	return false
}

// assumptions says what was taken for granted.
func (n *notebook) assumptions() {
	m := n.m
	if m.agentAssumed && len(m.pieces)+len(m.plates) > 0 {
		n.add(Assumption, nil, "Nothing says what dissolved the metal: nitric acid is assumed.")
	}
	if m.closingAssumed && n.inv.Vessel.Mol[m.closing] > leastAnion*float64(n.inv.Volume) {
		n.add(Assumption, nil, "Nothing says which acid the liquor was made with: its charge is balanced with nitrate.")
	}
	if sodium := n.inv.Vessel.Mol[m.ids.sodium] - m.settle(n.v).brought[m.ids.sodium]; sodium > unnamedCation {
		n.add(Assumption, nil, "The anions stated outweigh the cations by %s: a cation that nothing names is counted as sodium.", moles(sodium))
	}
	if m.acid.assumed != input.NoRef {
		n.add(Assumption, []input.Ref{m.acid.assumed}, "Free acid is neither stated nor measured: %s ± %s is assumed. A pH or a titration of the acid narrows it.",
			units.Format(units.ConcentrationKind, float64(n.r.Acid.Concentration)), units.Format(units.ConcentrationKind, float64(n.r.Acid.ConcentrationSD)))
	}
	if m.volumeFactor != input.NoRef {
		n.add(Assumption, []input.Ref{m.volumeFactor}, "The volume of the liquid is not stated: %s is taken.", units.FormatDist(units.VolumeKind, units.NormalDist(float64(n.r.Volume), float64(n.r.VolumeSD))))
	}
}

// leastAnion, in mol/L, is what of the closing anion is worth a word.
const leastAnion = 1e-3

// unnamedCation, in mol, is what may be missing of the cations by rounding.
const unnamedCation = 1e-9

// cautions says what to test and what to beware of.
func (n *notebook) cautions() {
	m := n.m
	if m.cemented != input.NoRef {
		n.add(Caution, []input.Ref{m.cemented}, "Metal less noble than silver still stands in the liquor: the acid is nearly spent and silver has cemented on it. Test the clear liquor with a drop of salt water before counting on dissolved silver.")
	}
	if n.inv.Ammonium > 0 && m.closing == m.ids.nitrate {
		n.add(Caution, nil, "The liquor may hold %s of ammonium beside nitrate: never boil it dry.", moles(n.inv.Ammonium))
	}
	for k := range m.metals {
		n.metalCaution(m.metals[k].symbol, &n.r.Metals[k])
	}
	if len(n.r.Declared) > 0 {
		n.add(Caution, nil, "Declared to be in it: %s.", strings.Join(cleaned(n.r.Declared), ", "))
	}
	for _, w := range n.inv.Warnings {
		n.add(Caution, nil, "%s.", strings.TrimSuffix(w, "."))
	}
}

func cleaned(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = input.Clean(s, 0)
	}
	return out
}

func (n *notebook) metalCaution(symbol string, r *MetalReport) {
	switch {
	case r.Contained <= 0:
	case symbol == "Sn" && r.Solid > 0:
		n.add(Caution, nil, "Tin stands there as fine tin(IV) oxide (%s of tin), which filters badly and holds silver.", mass(r.Solid, r.SolidSD))
	case symbol == "Au" && r.Solid > 0:
		n.add(Caution, nil, "Gold was not dissolved: %s stands with the solids.", mass(r.Solid, r.SolidSD))
	case symbol == "Pb":
		n.add(Caution, nil, "Lead comes down with chloride and leaves with hot wash water: keep that water apart.")
	}
}
