package tui

import (
	"strings"
	"testing"

	"afterpour/econ"
)

// TestWhyInStandings: the row of a plan tells what its gain and net are made of,
// down to what was typed.
func TestWhyInStandings(t *testing.T) {
	b := realBench(t, "../testdata/lots/sterling-parting.toml", 100, 2000)
	a := b.m.appraisal()
	p := &a.Plans[0]
	b.keys("2", "home", "w")
	inputs := 0
	for _, q := range []string{ofPlan(p, "gain"), ofPlan(p)} {
		chain, err := econ.Why(a, q)
		if err != nil {
			t.Fatal(err)
		}
		inputs += b.showsChain(chain)
	}
	if inputs == 0 {
		t.Error("the net rests on nothing that was typed")
	}
	b.keys("w")
	b.hides("worked out as")
}

// showsChain compares what is on the screen with a chain, every figure, formula
// and input of it, and counts the inputs.
func (b *bench) showsChain(c econ.Chain) (inputs int) {
	b.t.Helper()
	shown := strings.Join(strings.Fields(b.view()), " ")
	for _, n := range c.Links {
		want := []string{n.What, n.Text, n.Formula, n.Reason}
		for _, in := range n.Inputs {
			want = append(want, in.ID, in.Text)
			inputs++
		}
		for _, s := range want {
			if s = strings.Join(strings.Fields(s), " "); !strings.Contains(shown, s) {
				b.t.Fatalf("%q of %s is not on the screen:\n%s", s, c.What, b.view())
			}
		}
	}
	return inputs
}

// TestWhyAbreast: a row of money answers for every plan in it, one of metal,
// product or waste for what it is about; all rows of money can be asked.
func TestWhyAbreast(t *testing.T) {
	b := realBench(t, "../testdata/lots/sterling-parting.toml", 120, 2000)
	a := b.m.appraisal()
	b.m.standings.chosen = []string{a.Plans[0].ID, a.Plans[1].ID}
	b.keys("3", "home")
	asked := map[string]int{}
	for {
		row := b.m.row()
		title, label, _ := strings.Cut(row.key, "\n")
		if row.claim != nil {
			asked[title]++
			b.keys("w")
			for _, q := range row.claim.questions {
				if chain, err := econ.Why(a, q); err != nil {
					t.Errorf("%s: %v", label, err)
				} else {
					b.shows(chain.What)
				}
			}
			b.keys("esc")
		}
		if title == "Money" && (label == "net" || label == "gain") && (row.claim == nil || len(row.claim.questions) != 2) {
			t.Errorf("%s does not answer for both plans", label)
		}
		if b.keys("down"); b.m.row().key == row.key {
			break
		}
	}
	for _, title := range []string{"Money", "Metal", "Products", "Waste", "Reagents"} {
		if asked[title] == 0 {
			t.Errorf("nothing of %s can be asked", title)
		}
	}
}
