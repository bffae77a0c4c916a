package equil

import (
	"fmt"
	"math"
	"slices"
)

const (
	// maxComponents keeps a solver's components within one 32-bit mask.
	maxComponents = 32
	// waterMolarMass is the kg of water in a mol, from the abridged standard
	// atomic weights of hydrogen and oxygen (CIAAW 2021: 1.008, 15.999).
	waterMolarMass = 18.015e-3
)

// system is a set of constants cut down to some components and solids and laid
// out flat for the solver, at one temperature.
type system struct {
	component []int32   // index in the set of each component; hydrogen is first
	charge    []float64 // of each component's master species

	// Species: masters first. The parts of species j are off[j] to off[j+1].
	species []int32 // index in the set
	off     []int32
	idx     []int32   // component of a part
	nu      []float64 // count of a part
	z       []float64
	half    []float64 // half the square of the charge
	water   []float64 // molecules of water taken up in forming
	class   []int32   // activity coefficient class
	lnK     []float64
	mask    []uint32 // components that must be there

	classes []gammaClass

	// The same by component: component c is in uses[useOff[c]] to
	// uses[useOff[c+1]].
	useOff []int32
	uses   []use

	// Solids, with one dense row of counts each.
	solid      []int32 // index in the set
	solidNu    []float64
	solidWater []float64 // molecules of water let go in dissolving
	solidLnK   []float64
	solidMask  []uint32
}

// use is a part seen from its component.
type use struct {
	species int32
	nu      float64
}

func (y *system) components() int { return len(y.component) }

func (y *system) solids() int { return len(y.solid) }

// solidRow is the counts of every component in one unit of a solid.
func (y *system) solidRow(i int) []float64 {
	n := y.components()
	return y.solidNu[i*n : (i+1)*n]
}

// newSystem lays out the part of a set that the given components and solids
// span. Hydrogen is always in it.
func newSystem(set *Set, components, solids []string) (*system, error) {
	y := &system{}
	at := map[int]int{}
	for _, name := range append([]string{hydrogen}, components...) {
		i := set.componentIndex(name)
		if i < 0 {
			return nil, fmt.Errorf("equil: component %s: %w (%s)", name, ErrUnsupported, set.Name())
		}
		if _, twice := at[i]; twice {
			continue
		}
		at[i] = len(y.component)
		y.component = append(y.component, int32(i))
		y.charge = append(y.charge, set.components[i].charge)
	}
	y.addSpecies(set, at)
	return y, y.addSolids(set, at, solids)
}

// addSpecies takes every species of the set that is made of the components.
// Masters come out first because they come first in the set.
func (y *system) addSpecies(set *Set, at map[int]int) {
	order := make([]int, 0, len(set.species))
	for _, i := range y.component {
		order = append(order, int(i))
	}
	for j := len(set.components); j < len(set.species); j++ {
		if within(set.species[j].parts, at) {
			order = append(order, j)
		}
	}
	y.off = append(y.off, 0)
	for _, j := range order {
		m := set.species[j]
		y.species = append(y.species, int32(j))
		mask := uint32(0)
		for _, p := range m.parts {
			y.idx = append(y.idx, int32(at[p.component]))
			y.nu = append(y.nu, p.count)
			mask |= 1 << at[p.component]
		}
		y.off = append(y.off, int32(len(y.idx)))
		y.z = append(y.z, m.charge)
		y.half = append(y.half, m.charge*m.charge/2)
		y.water = append(y.water, m.water)
		y.class = append(y.class, y.classOf(set.kind, m))
		y.mask = append(y.mask, mask)
	}
	y.lnK = make([]float64, len(order))
	y.addUses()
}

func (y *system) addUses() {
	y.useOff = append(y.useOff, 0)
	for c := range y.component {
		for j := range y.species {
			for k := y.off[j]; k < y.off[j+1]; k++ {
				if int(y.idx[k]) == c {
					y.uses = append(y.uses, use{int32(j), y.nu[k]})
				}
			}
		}
		y.useOff = append(y.useOff, int32(len(y.uses)))
	}
}

// classOf finds or adds the activity class of a species. The ion size matters
// to the B-dot equation only.
func (y *system) classOf(kind activityKind, m made) int32 {
	c := gammaClass{z2: m.charge * m.charge}
	if kind == bdotActivity && c.z2 != 0 {
		c.size = m.size
	}
	i := slices.Index(y.classes, c)
	if i < 0 {
		i = len(y.classes)
		y.classes = append(y.classes, c)
	}
	return int32(i)
}

func (y *system) addSolids(set *Set, at map[int]int, solids []string) error {
	n := y.components()
	for _, name := range solids {
		i := set.solidIndex(name)
		if i < 0 {
			return fmt.Errorf("equil: solid %s: %w (%s)", name, ErrUnsupported, set.Name())
		}
		m := set.solids[i]
		if !within(m.parts, at) || slices.Contains(y.solid, int32(i)) {
			continue // a component of it is not there, so it cannot form
		}
		row := make([]float64, n)
		mask := uint32(0)
		for _, p := range m.parts {
			row[at[p.component]] = p.count
			mask |= 1 << at[p.component]
		}
		y.solid = append(y.solid, int32(i))
		y.solidNu = append(y.solidNu, row...)
		y.solidWater = append(y.solidWater, m.water)
		y.solidMask = append(y.solidMask, mask&^1) // hydrogen is always there
	}
	y.solidLnK = make([]float64, len(y.solid))
	return nil
}

func within(parts []part, at map[int]int) bool {
	for _, p := range parts {
		if _, ok := at[p.component]; !ok {
			return false
		}
	}
	return true
}

// setTemperature works out every constant at a temperature in kelvin.
func (y *system) setTemperature(set *Set, kelvin float64) {
	for j, i := range y.species {
		y.lnK[j] = set.species[i].logK(kelvin) * math.Ln10
	}
	for k, i := range y.solid {
		y.solidLnK[k] = set.solids[i].logK(kelvin) * math.Ln10
	}
}
