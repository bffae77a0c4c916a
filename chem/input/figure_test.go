package input

import (
	"reflect"
	"testing"

	"afterpour/chem/units"
)

func TestFigures(t *testing.T) {
	var f Figures
	if _, ok := f.ByID("a"); ok || f.Len() != 0 || len(f.Central()) != 0 {
		t.Error("the empty register is not empty")
	}
	a := f.Add(Figure{ID: "a", Dist: units.Exactly(1)})
	b := f.Add(Figure{ID: "b", Dist: units.NormalDist(2, 1)})
	if r, ok := f.ByID("b"); !ok || r != b || f.Get(a).ID != "a" || f.Len() != 2 {
		t.Errorf("ByID(b) = %v, %v of %d", r, ok, f.Len())
	}
	if got := f.Central(); !reflect.DeepEqual(got, Values{1, 2}) || got.At(b) != 2 {
		t.Errorf("Central() = %v", got)
	}

	c := f.Clone()
	d := c.Add(Figure{ID: "d", Dist: units.Exactly(4)})
	if again := c.Add(Figure{ID: "a", Dist: units.Exactly(9)}); again != a || c.Len() != 3 || c.Central().At(a) != 9 {
		t.Errorf("a figure added again has reference %v in a register of %d", again, c.Len())
	}
	if _, ok := f.ByID("d"); ok || f.Len() != 2 || f.Central().At(a) != 1 || c.Get(d).ID != "d" {
		t.Error("adding to the clone changed the original")
	}
	if got := f.Get(NoRef); got.ID != "" {
		t.Errorf("Get(NoRef) = %+v", got)
	}
	if got := f.Get(7); got.ID != "" {
		t.Errorf("Get of an unknown reference = %+v", got)
	}
}

func TestOriginNames(t *testing.T) {
	seen := map[string]bool{}
	for o := Typed; o <= Tabulated; o++ {
		if seen[o.String()] || o.String() == "unknown" {
			t.Errorf("origin %d is named %q", o, o)
		}
		seen[o.String()] = true
	}
}
