package tui

import (
	"context"
	"os"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/store"
	"afterpour/econ"
)

// weighedBars are five lots by one route, each with less silver than expected.
func weighedBars(t *testing.T) []econ.Outturn {
	t.Helper()
	m, err := newModel(context.Background(), Options{
		Lot:  File{Name: "lot", Path: "../testdata/lots/sterling-parting.toml"},
		Book: File{Name: "prices.toml", Path: "../prices.toml"}, Today: today,
	}.withDefaults())
	if err != nil {
		t.Fatal(err)
	}
	result, err := judge(context.Background(), m.world, m.ground, judged{}, "prices.toml", m.log.data())
	if err != nil {
		t.Fatal(err)
	}
	expected, err := econ.Expect(context.Background(), result.appraisal, "")
	if err != nil {
		t.Fatal(err)
	}
	var list []econ.Outturn
	for range 5 {
		o, err := expected.Outturn(testDay, []string{expected.Products[0].Sale + "=120 g"})
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, o)
	}
	return list
}

// TestHistory: what earlier outturns have taught is in the figures of the
// screen, and stays there when the lot is edited.
func TestHistory(t *testing.T) {
	data, err := os.ReadFile("../testdata/lots/sterling-parting.toml")
	if err != nil {
		t.Fatal(err)
	}
	history := weighedBars(t)
	f := opened{name: "lot.toml", data: data}
	m := model{world: surroundings{layer: store.OS, today: today, judge: judge}}
	plain, err := decodeLot(libraryOf(t), nil, f)
	if err != nil {
		t.Fatal(err)
	}
	taught, err := decodeLot(libraryOf(t), history, f)
	if err != nil {
		t.Fatal(err)
	}
	again, err := taught.with(f)
	if err != nil {
		t.Fatal(err)
	}
	if taught.learning == nil || again.learning == nil || plain.learning != nil {
		t.Fatal("the learning is not kept with the lot")
	}
	if differs(plain.figures, taught.figures) == 0 || differs(taught.figures, again.figures) != 0 {
		t.Errorf("figures changed by the outturns: %d; by decoding again: %d", differs(plain.figures, taught.figures), differs(taught.figures, again.figures))
	}
	a, err := judge(context.Background(), m.world, taught, judged{}, "prices.toml", econ.DefaultBook())
	if err != nil {
		t.Fatal(err)
	}
	notes := strings.Join(a.appraisal.Notes, "\n")
	for _, sentence := range taught.learning.Sentences() {
		if !strings.Contains(notes, sentence) {
			t.Errorf("%q is not among the notes", sentence)
		}
	}
	if len(taught.learning.Sentences()) == 0 {
		t.Error("nothing was learned")
	}
}

func differs(a, b *input.Figures) int {
	n := 0
	for i := range min(a.Len(), b.Len()) {
		if a.Get(input.Ref(i)).Dist != b.Get(input.Ref(i)).Dist {
			n++
		}
	}
	return n
}

func libraryOf(t *testing.T) *route.Library {
	t.Helper()
	library, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return library
}
