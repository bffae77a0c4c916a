package tui

import "testing"

func TestOnlyDifferences(t *testing.T) {
	b := newBench(t, 100, 60, nil)
	b.keys("down", " ", "down", " ", "3")
	b.shows("disposal ", "storage")
	b.keys("d")
	b.shows("storage", "Only what differs is shown")
	b.hides("disposal ")
	b.keys("d")
	b.shows("disposal ")
}

// TestBestStandIn: without a choice the best plans that work the lot up are set
// abreast.
func TestBestStandIn(t *testing.T) {
	plans := shownAbreast(testAppraisal(), nil)
	if len(plans) != 2 || plans[0].ID != "chloride-oxide-sugar+dispose" || plans[1].ID != "copper-cementation+dispose" {
		t.Errorf("%d plans: %s, %s", len(plans), plans[0].ID, plans[1].ID)
	}
}

// TestFold: a folded group shows its first row, which speaks for the rest.
func TestFold(t *testing.T) {
	b := newBench(t, 100, 80, nil)
	b.keys(" ", "down", "down", "down", " ", "3")
	b.shows("net", "disposal")
	b.keys("down", "down", "enter")
	b.shows("net", "lines folded)")
	b.hides("disposal ")
	b.keys("enter")
	b.shows("disposal ")
}

// TestDifferences: beside the value stands its difference to plan A.
func TestDifferences(t *testing.T) {
	b := newBench(t, 100, 80, nil)
	b.keys(" ", "down", "down", "down", " ", "3")
	b.shows("-96.40    -110.70")
}
