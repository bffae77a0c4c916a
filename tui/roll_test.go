package tui

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// stops makes a page: a letter a line, capital where the cursor can rest, P
// where a part begins.
func stops(plan string) []line {
	var lines []line
	for i, c := range plan {
		l := text(plain, fmt.Sprint(i, string(c)))
		switch c {
		case 'S':
			l = l.at(fmt.Sprint(i), nil)
		case 'P':
			l = l.at(fmt.Sprint(i), nil)
			l.part = true
		}
		lines = append(lines, l)
	}
	return lines
}

func TestRollMoves(t *testing.T) {
	r := roll{}.size(20, 4).fill(stops("..SxxSxPxSSx"))
	if r.cursor != 2 {
		t.Fatalf("the cursor begins at %d, want the first stop, 2", r.cursor)
	}
	if r.top != 0 {
		t.Errorf("what heads the first stop is not shown: top %d", r.top)
	}
	if r = r.move(1); r.cursor != 5 {
		t.Errorf("down: %d, want 5", r.cursor)
	}
	if r = r.jump(1); r.cursor != 7 {
		t.Errorf("next part: %d, want 7", r.cursor)
	}
	if r = r.jump(1); r.cursor != 7 {
		t.Errorf("round the only part: %d, want 7", r.cursor)
	}
	if r = r.end(1); r.cursor != 10 || r.top+r.height < 12 {
		t.Errorf("end: %d, top %d", r.cursor, r.top)
	}
	if r = r.move(1); r.cursor != 10 {
		t.Errorf("below the last: %d, want 10", r.cursor)
	}
	if r = r.end(-1); r.cursor != 2 || r.top != 0 {
		t.Errorf("first: %d, top %d", r.cursor, r.top)
	}
}

// TestRollKeepsItsRow: when the page is laid out anew the cursor stays on what
// it was about.
func TestRollKeepsItsRow(t *testing.T) {
	r := roll{}.size(20, 4).fill(stops("SSSS")).move(2)
	moved := stops("..SSSS")
	for i := range moved {
		moved[i].key = ""
	}
	moved[4].key = "2"
	if r = r.fill(moved); r.cursor != 4 {
		t.Errorf("the row went to line 4, the cursor to %d", r.cursor)
	}
}

// TestRollStaysInside: whatever is pressed and however the size changes, the
// cursor is on a stop in sight and as many lines are drawn as there is room for.
func TestRollStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		page := func() []line {
			return stops(rapid.StringMatching(`[.SP]{0,40}`).Draw(t, "page"))
		}
		r := roll{}.size(20, 5).fill(page())
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				r = r.move(rapid.IntRange(-3, 3).Draw(t, "by"))
			case 1:
				r = r.page(1)
			case 2:
				r = r.page(-1)
			case 3:
				r = r.jump(rapid.SampledFrom([]int{-1, 1}).Draw(t, "to"))
			case 4:
				r = r.end(rapid.SampledFrom([]int{-1, 1}).Draw(t, "to"))
			case 5:
				r = r.size(rapid.IntRange(0, 30).Draw(t, "width"), rapid.IntRange(-2, 20).Draw(t, "height"))
			case 6:
				r = r.fill(page())
			}
			if got := len(r.view(look{})); got != r.height {
				t.Fatalf("%d lines drawn of %d", got, r.height)
			}
			if r.current().stop && (r.cursor < r.top || r.cursor >= r.top+r.height) {
				t.Fatalf("cursor %d out of sight: %d lines from %d", r.cursor, r.height, r.top)
			}
		}
	})
}
