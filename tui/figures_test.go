package tui

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"afterpour/chem/route"
	"afterpour/econ"
)

// number is a figure as the screen writes it.
var number = regexp.MustCompile(`[+-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?`)

// numbers are the figures of a text in their order.
func numbers(text string) []float64 {
	var list []float64
	for _, s := range number.FindAllString(text, -1) {
		if v, err := strconv.ParseFloat(s, 64); err == nil {
			list = append(list, v)
		}
	}
	return list
}

// near compares a figure read off the screen with the one behind it: they may
// differ by half of the last digit shown, which is never coarser than three
// digits or, for money, a cent.
func near(got, want float64) bool {
	return math.Abs(got-want) <= math.Max(0.0051, math.Abs(want)*0.0051)
}

// rowsAfter returns the rows of a view below the first that holds a text.
func rowsAfter(view, text string) []string {
	rows := strings.Split(view, "\n")
	for i, row := range rows {
		if strings.Contains(row, text) {
			return rows[i:]
		}
	}
	return nil
}

// figuresRow finds the figures behind a name at the beginning of a row.
func figuresRow(t *testing.T, rows []string, name string) []float64 {
	t.Helper()
	for _, row := range rows {
		trimmed := strings.TrimLeft(strings.TrimPrefix(row, drawnSigns.cursor), " ")
		if rest, ok := strings.CutPrefix(trimmed, name+" "); ok {
			return numbers(rest)
		}
	}
	t.Errorf("no row of %q", name)
	return nil
}

func compare(t *testing.T, what string, got []float64, want ...float64) {
	t.Helper()
	if len(got) < len(want) {
		t.Errorf("%s: the screen shows %v, want %v", what, got, want)
		return
	}
	for i := range want {
		if !near(got[i], want[i]) {
			t.Errorf("%s: the screen shows %v, want %v", what, got[i], want[i])
		}
	}
}

// TestFiguresOfViews reads the figures off every screen and compares them with
// the appraisal, for every lot that comes with the program and for the one that
// was made up by hand.
func TestFiguresOfViews(t *testing.T) {
	t.Run("by hand", func(t *testing.T) {
		b := newBench(t, 200, 3000, nil)
		b.compareScreens()
	})
	lots, _ := filepath.Glob("../testdata/lots/*.toml")
	if len(lots) == 0 {
		t.Fatal("there are no lots to compare")
	}
	for _, path := range lots {
		t.Run(filepath.Base(path), func(t *testing.T) {
			for _, width := range []int{80, 200} {
				realBench(t, path, width, 6000).compareScreens()
			}
		})
	}
}

// realBench is a bench over a real lot and the shipped prices.
func realBench(t *testing.T, lotPath string, width, height int) *bench {
	t.Helper()
	data, err := os.ReadFile("../prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	b := &bench{t: t, bookPath: filepath.Join(t.TempDir(), "prices.toml")}
	if err := os.WriteFile(b.bookPath, data, 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := newModel(context.Background(), Options{
		Lot: File{Name: lotPath, Path: lotPath}, Book: File{Name: b.bookPath, Path: b.bookPath},
		Today: today, NoColor: true, Draws: -1,
	}.withDefaults())
	if err != nil {
		t.Fatal(err)
	}
	b.m = m
	b.run(m.start(asEdited, m.log.data()))
	if b.m.appraisal() == nil {
		t.Fatalf("no appraisal: %v", b.m.studies[asEdited].err)
	}
	b.send(sizeMsg(width, height))
	return b
}

func (b *bench) compareScreens() {
	a := b.m.appraisal()
	b.keys("1")
	b.compareResidue(a)
	b.keys("2")
	b.compareStandings(a)
	b.compareAbreast(a)
	for i := range a.Plans {
		if i < 4 || i == len(a.Plans)-1 {
			b.comparePlan(a, &a.Plans[i])
		}
	}
	b.keys("5")
	b.comparePrices()
}

func (b *bench) compareResidue(a *econ.Appraisal) {
	b.t.Helper()
	rows := rowsAfter(b.view(), "contained g")
	for i, row := range rows { // without the vessel on the left
		if cut := []rune(row); b.m.residue.vessel != nil && len(cut) > vesselWidth+vesselGap {
			rows[i] = string(cut[vesselWidth+vesselGap:])
		}
	}
	for _, m := range a.Metals {
		got := figuresRow(b.t, rows, m.Metal)
		if len(got) == 0 {
			continue
		}
		if !near(got[0], m.Contained.Grams()) && math.Abs(got[0]-m.Contained.Grams()) > m.SD.Grams()*0.1 {
			b.t.Errorf("%s: %v g on the screen, %v g contained", m.Metal, got[0], m.Contained.Grams())
		}
		if m.SpotValue != nil {
			compare(b.t, m.Metal+" at spot", got[len(got)-1:], float64(*m.SpotValue))
		}
	}
	acid := figuresRow(b.t, rows, map[bool]string{true: "free acid", false: "alkali left"}[a.Report.Acid.FreeMol >= 0])
	if len(acid) > 0 && math.Abs(acid[0]-math.Abs(a.Report.Acid.FreeMol)) > math.Max(a.Report.Acid.SD*0.1, 0.005) {
		b.t.Errorf("acid: %v on the screen, %v mol", acid[0], a.Report.Acid.FreeMol)
	}
}

func (b *bench) compareStandings(a *econ.Appraisal) {
	b.t.Helper()
	b.keys("a") // those that only end otherwise as well
	rows := rowsAfter(b.view(), drawnSigns.net+" net")
	next := 1
	rank := 0
	for i := range a.Plans {
		p := &a.Plans[i]
		if !p.Priced() {
			continue
		}
		rank++
		for next < len(rows) && rankOf(rows[next]) != rank {
			next++
		}
		if next+1 >= len(rows) {
			b.t.Errorf("plan %d, %s, is not listed", rank, p.ID)
			return
		}
		id, _, _ := strings.Cut(strings.TrimSpace(rows[next][strings.Index(rows[next], p.ID[:4]):]), " ")
		if !strings.HasPrefix(p.ID, strings.TrimSuffix(id, "…")) {
			b.t.Errorf("row %q is not of %s", rows[next], p.ID)
		}
		for !strings.Contains(rows[next], drawnSigns.net) {
			next++
		}
		figures := rows[next]
		_, tail, _ := strings.Cut(figures, drawnSigns.net)
		want := []float64{float64(p.Net), float64(p.Gain), float64(p.NetWithoutLabour)}
		got := numbers(tail)
		compare(b.t, p.ID, got, want...)
		if p.PerHour != nil {
			compare(b.t, p.ID+" per hour", got[len(got)-1:], float64(*p.PerHour))
		}
	}
	for _, g := range blockedGroups(a) {
		if words := strings.Fields(g.plans[0].Blocked.Reason); len(words) > 0 && !strings.Contains(b.view(), words[0]) {
			b.t.Errorf("the reason of %s is not shown", g.plans[0].ID)
		}
	}
}

// listed is a row of the standings by its beginning: cursor, letter, rank.
var listed = regexp.MustCompile(`^.{4} *(\d+) [* ] \S`)

// rankOf is the rank at the beginning of a row; 0 if it is no such row.
func rankOf(row string) int {
	m := listed.FindStringSubmatch(row)
	if m == nil {
		return 0
	}
	rank, _ := strconv.Atoi(m[1])
	return rank
}

func (b *bench) compareAbreast(a *econ.Appraisal) {
	b.t.Helper()
	var plans []*econ.PricedPlan
	for i := range a.Plans {
		if a.Plans[i].Priced() && len(plans) < 3 {
			plans = append(plans, &a.Plans[i])
			b.m.standings.chosen = append(b.m.standings.chosen, a.Plans[i].ID)
		}
	}
	b.keys("3")
	rows := rowsAfter(b.view(), "Money")
	differences := (b.m.width-cursorWidth-labelWidth)/len(plans) >= differenceFrom
	lines := map[string]func(*econ.PricedPlan) econ.Money{
		"net":                    func(p *econ.PricedPlan) econ.Money { return p.Net },
		"gain":                   func(p *econ.PricedPlan) econ.Money { return p.Gain },
		"net without own labour": func(p *econ.PricedPlan) econ.Money { return p.NetWithoutLabour },
		"disposal":               func(p *econ.PricedPlan) econ.Money { return p.DisposalCost },
	}
	for name, of := range lines {
		var want []float64
		nothing := true
		for i, p := range plans {
			want = append(want, float64(of(p)))
			nothing = nothing && of(p) == 0
			if differences && i > 0 && money(of(p)) != money(of(plans[0])) {
				want = append(want, float64(of(p)-of(plans[0])))
			}
		}
		if !nothing {
			compare(b.t, name, figuresRow(b.t, rows, name), want...)
		}
	}
	b.m.standings.chosen = nil
	b.keys("2")
}

func (b *bench) comparePlan(a *econ.Appraisal, p *econ.PricedPlan) {
	b.t.Helper()
	b.m.plan.id = p.ID
	b.keys("4")
	view := b.view()
	if p.Blocked != nil {
		if !strings.Contains(view, "blocked") {
			b.t.Errorf("%s is not shown as blocked", p.ID)
		}
		return
	}
	compare(b.t, p.ID+" head", numbers(strings.Join(rowsAfter(view, "plan ")[:1], ""))[2:], float64(p.Net), float64(p.Gain), float64(p.NetWithoutLabour))
	rows := rowsAfter(view, "Money")
	for _, c := range econ.Categories {
		if value := byCategory(p, c); value != 0 {
			compare(b.t, p.ID+" "+string(c), figuresRow(b.t, rows, string(c)), map[bool]float64{true: 1, false: -1}[c == econ.Revenue]*float64(value))
		}
	}
	compare(b.t, p.ID+" net", figuresRow(b.t, rows, "net"), float64(p.Net))
	b.compareEntries(p)
}

// compareEntries looks at every figure of the ledger.
func (b *bench) compareEntries(p *econ.PricedPlan) {
	b.t.Helper()
	if p.Outcome == nil {
		return
	}
	for i := range p.Outcome.Steps {
		for j := range p.Outcome.Steps[i].Entries {
			e := &p.Outcome.Steps[i].Entries[j]
			if p.Outcome.Steps[i].Skipped {
				continue
			}
			amount, unit := entryAmount(e)
			if !strings.Contains(b.view(), amount) {
				b.t.Errorf("%s: %s %s %s is not shown", p.ID, e.Kind, amount, unit)
			}
			shown, _ := strconv.ParseFloat(amount, 64)
			scale := map[string]float64{"min": 1.0 / 60, "mg": 1e-3, "ug": 1e-6}[unit]
			if scale == 0 || e.Kind == route.Vessel {
				scale = 1
			}
			if math.Abs(shown*scale-e.Amount) > math.Abs(e.Amount)*0.06 {
				b.t.Errorf("%s: %s shown as %s %s, is %v %s", p.ID, e.Kind, amount, unit, e.Amount, e.Kind.Unit())
			}
		}
	}
}

func (b *bench) comparePrices() {
	b.t.Helper()
	view := b.view()
	for _, r := range b.m.studies[asEdited].rows {
		if !strings.Contains(view, r.Text) || !strings.Contains(view, day(r.Date)) {
			b.t.Errorf("%s, %s of %s, is not shown", r.Path, r.Text, day(r.Date))
		}
	}
}

// TestFiguresOfOdds reads the odds off the standings and the plans and compares
// them with the appraisal: those made up by hand, and those of draws of a lot.
func TestFiguresOfOdds(t *testing.T) {
	t.Run("by hand", func(t *testing.T) {
		b := newBench(t, 200, 300, nil)
		b.keys("o")
		b.compareOdds()
	})
	t.Run("drawn", func(t *testing.T) {
		b := realBench(t, "../testdata/lots/nitrate-liquor.toml", 80, 24)
		b.m.world.draws = 100
		b.keys("o")
		b.compareOdds()
		b.send(sizeMsg(200, 300))
		b.compareOdds()
	})
}

func (b *bench) compareOdds() {
	b.t.Helper()
	a := b.m.appraisal()
	if a.Draws == 0 {
		b.t.Fatal("there are no odds")
	}
	if odds := verdictOdds(a); odds != "" {
		b.shows(odds)
	}
	seen := 0
	for b.keys("home"); ; b.keys("down") {
		p := b.m.planHere()
		if p == nil || p.Odds == nil {
			break
		}
		seen++
		rows := strings.Split(b.view(), "\n")
		got := numbers(strings.Split(rows[len(rows)-2], "  ")[0])
		compareThree(b.t, p, got[len(got)-3:])
		compareShares(b.t, p, got)
		if b.m.width >= 200 {
			fields := strings.Split(strings.TrimSpace(rows[b.m.standings.roll.cursor-b.m.standings.roll.top+3+len(b.m.standings.top)]), "  ")
			compareShares(b.t, p, numbers(strings.Join(fields[len(fields)-2:], " ")))
		}
		if equal := strings.Contains(strings.Split(b.view(), drawnSigns.cursor)[1][:12], drawnSigns.equal); equal != p.Odds.Equal {
			b.t.Errorf("%s: marked as equal %v, is %v", p.ID, equal, p.Odds.Equal)
		}
		if here := b.m.row().key; seen < 4 {
			b.keys("enter")
			compareThree(b.t, p, numbers(rowsAfter(b.view(), "net in 10, 50, 90 %")[0])[3:])
			b.keys("2")
			b.m.standings.roll = b.m.standings.roll.upTo(here)
		}
	}
	if seen < 2 {
		b.t.Errorf("odds of %d plans are shown", seen)
	}
}

func compareThree(t *testing.T, p *econ.PricedPlan, got []float64) {
	t.Helper()
	o := p.Odds
	step := max(0.01, econ.ShownStep(float64(o.P90-o.P10)))
	for i, want := range []econ.Money{o.P10, o.P50, o.P90} {
		if math.Abs(got[i]-float64(want)) > step*0.51 {
			t.Errorf("%s: the screen shows %v, want %v to %v", p.ID, got[i], want, step)
		}
	}
}

func compareShares(t *testing.T, p *econ.PricedPlan, got []float64) {
	t.Helper()
	for i, want := range []float64{p.Odds.PPositive, p.Odds.PBest} {
		if math.Abs(got[i]-100*want) > 0.51 {
			t.Errorf("%s: the screen shows %v %%, want %v", p.ID, got[i], 100*want)
		}
	}
}
