package econ

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// offered is a lot with plans of so much gain in so many hours.
func offered(name string, plans ...[2]float64) *Appraisal {
	a := &Appraisal{Lot: name}
	for i, p := range plans {
		priced := plan(fmt.Sprintf("%s-%d", name, i), Money(p[0]), "x")
		priced.Gain, priced.HandsOnH = priced.Net, p[1]
		if p[1] > 0 {
			rate := Money(p[0] / p[1])
			priced.GainPerHour = &rate
		}
		a.Plans = append(a.Plans, priced)
	}
	Rank(a.Plans)
	return a
}

func turns(list []Turn) (plans []string) {
	for _, t := range list {
		if t.Fits {
			plans = append(plans, t.Plan)
		}
	}
	return plans
}

func TestQueue(t *testing.T) {
	a := offered("a", [2]float64{60, 6}, [2]float64{40, 2})
	b := offered("b", [2]float64{30, 1}, [2]float64{-5, 0})
	c := offered("c", [2]float64{50, 5})
	none := offered("none", [2]float64{-20, 3}, [2]float64{0, 0})
	for name, x := range map[string]struct {
		hours float64
		want  []string
	}{
		"no limit":    {math.Inf(1), []string{"b-0", "a-0", "c-0"}}, // 30, 10 and 10 an hour; a gains more
		"all fit":     {12, []string{"b-0", "a-0", "c-0"}},
		"eight hours": {8, []string{"b-0", "a-1", "c-0"}}, // 120: the quick way with a leaves room for c
		"three hours": {3, []string{"b-0", "a-1"}},
		"one hour":    {1, []string{"b-0"}},
		"none":        {0, nil},
	} {
		list := Queue([]*Appraisal{none, c, a, b}, x.hours)
		if got := turns(list); !slices.Equal(got, x.want) {
			t.Errorf("%s: %v, want %v", name, got, x.want)
		}
		if len(list) != 4 {
			t.Errorf("%s: %d turns of 4 lots", name, len(list))
		}
		used := 0.0
		for _, turn := range list {
			if turn.Fits {
				used += turn.Hours
				near(t, name+": hours used", turn.By, used, 1e-12)
			}
		}
		if used > x.hours {
			t.Errorf("%s: %v hours", name, used)
		}
	}
	if list := Queue([]*Appraisal{{Lot: "empty"}}, 5); list[0].Plan != "" || list[0].Fits {
		t.Errorf("a lot without a price: %+v", list)
	}
}

// The choice gains as much as trying all of them.
func TestQueueIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var lots []*Appraisal
		for i := range rapid.IntRange(1, 4).Draw(t, "lots") {
			var plans [][2]float64
			for range rapid.IntRange(1, 3).Draw(t, "plans") {
				plans = append(plans, [2]float64{float64(rapid.IntRange(-20, 100).Draw(t, "gain")), float64(rapid.IntRange(0, 80).Draw(t, "tenths")) / 10})
			}
			lots = append(lots, offered(fmt.Sprint(i), plans...))
		}
		hours := float64(rapid.IntRange(0, 200).Draw(t, "tenths")) / 10
		got := Money(0)
		for _, turn := range Queue(lots, hours) {
			if turn.Fits {
				got += turn.Gain
			}
		}
		if want := bestChoice(lots, hours+1e-9); math.Abs((got - want).Float()) > 1e-6 {
			t.Fatalf("the queue gains %v, the best choice %v", got, want)
		}
	})
}

func bestChoice(lots []*Appraisal, hours float64) Money {
	if len(lots) == 0 {
		return 0
	}
	most := bestChoice(lots[1:], hours)
	for i := range lots[0].Plans {
		if p := &lots[0].Plans[i]; p.HandsOnH <= hours {
			most = max(most, p.Gain+bestChoice(lots[1:], hours-p.HandsOnH))
		}
	}
	return most
}
