package tui

import (
	"fmt"
	"strings"
)

// cursorWidth is the column kept free for the cursor's sign, with its gap.
const cursorWidth = 2

// roll is a page longer than the screen, with a cursor that rests on the rows
// that have something to say.
type roll struct {
	lines         []line
	width, height int // of the part shown, the cursor's column included
	cursor, top   int
}

// size sets the part of the screen that the roll has.
func (r roll) size(width, height int) roll {
	r.width, r.height = width, max(1, height)
	return r.follow()
}

// room is the width that a line has.
func (r roll) room() int { return max(1, r.width-cursorWidth) }

// fill sets the lines; the cursor stays on the row it was on, by its key, or
// near its place.
func (r roll) fill(lines []line) roll {
	key, place := r.current().key, r.cursor
	r.lines, r.cursor = lines, -1
	for i := range lines {
		if lines[i].stop && lines[i].key == key {
			r.cursor = i
			break
		}
	}
	if r.cursor < 0 {
		r.cursor = r.nearest(place)
	}
	return r.follow()
}

// nearest returns the stop closest to a place.
func (r roll) nearest(place int) int {
	for d := 0; d < len(r.lines); d++ {
		for _, i := range [2]int{place + d, place - d} {
			if i >= 0 && i < len(r.lines) && r.lines[i].stop {
				return i
			}
		}
	}
	return 0
}

// current is the row of the cursor; the zero line if there is none.
func (r roll) current() line {
	if r.cursor < 0 || r.cursor >= len(r.lines) || !r.lines[r.cursor].stop {
		return line{}
	}
	return r.lines[r.cursor]
}

// move goes n stops down, or up if n is negative.
func (r roll) move(n int) roll {
	step := 1
	if n < 0 {
		step, n = -1, -n
	}
	for i := r.cursor + step; n > 0 && i >= 0 && i < len(r.lines); i += step {
		if r.lines[i].stop {
			r.cursor = i
			n--
		}
	}
	return r.follow()
}

// page goes a screen down (1) or up (-1).
func (r roll) page(direction int) roll {
	place := min(max(0, r.cursor+direction*max(1, r.height-2)), max(0, len(r.lines)-1))
	r.cursor = r.nearest(place)
	return r.follow()
}

// end goes to the first (-1) or the last (1) stop.
func (r roll) end(direction int) roll {
	if direction < 0 {
		r.cursor = r.nearest(0)
	} else {
		r.cursor = r.nearest(len(r.lines) - 1)
	}
	return r.follow()
}

// jump goes to the first stop of the next (1) or previous (-1) part, round the
// ends.
func (r roll) jump(direction int) roll {
	var starts []int
	here := -1
	for i := range r.lines {
		if r.lines[i].part {
			if i <= r.cursor {
				here = len(starts)
			}
			starts = append(starts, i)
		}
	}
	if len(starts) == 0 {
		return r
	}
	next := ((here+direction)%len(starts) + len(starts)) % len(starts)
	for i := starts[next]; i < len(r.lines); i++ {
		if r.lines[i].stop {
			r.cursor = i
			break
		}
	}
	r.top = max(0, min(starts[next], len(r.lines)-r.height))
	return r.follow()
}

// upTo puts the cursor on the first row whose key begins so.
func (r roll) upTo(prefix string) roll {
	for i := range r.lines {
		if r.lines[i].stop && strings.HasPrefix(r.lines[i].key, prefix) {
			r.cursor = i
			break
		}
	}
	return r.follow()
}

// headed scrolls the cursor's row up as far as leaves so many lines above it.
func (r roll) headed(lines int) roll {
	r.top = max(0, min(r.cursor-lines, len(r.lines)-r.height))
	return r
}

// atFirst reports that the cursor is on the first row that it can rest on.
func (r roll) atFirst() bool { return r.cursor == r.nearest(0) }

// follow scrolls as little as shows the cursor's row, the lines that belong to
// it, and what heads it. On the first row the page is shown from its beginning.
func (r roll) follow() roll {
	first, last := r.cursor, r.cursor+1
	for first > 0 && !r.lines[first-1].stop {
		first--
	}
	for last < len(r.lines) && !r.lines[last].stop && !r.lines[last].part {
		last++
	}
	if first == 0 && r.cursor < r.height {
		r.top = 0
		return r
	}
	r.top = min(r.top, max(first, r.cursor-mostHead))
	r.top = max(r.top, min(r.cursor, last-r.height))
	r.top = max(0, min(r.top, len(r.lines)-r.height))
	return r
}

// mostHead is how many lines before a row are kept in sight with it.
const mostHead = 3

// view draws the part that is shown: exactly height lines.
func (r roll) view(l look) []string {
	rows := make([]string, 0, r.height)
	for i := r.top; i < r.top+r.height; i++ {
		if i >= len(r.lines) {
			rows = append(rows, "")
			continue
		}
		here := r.lines[i].stop && i == r.cursor
		lead := strings.Repeat(" ", cursorWidth)
		if here {
			lead = l.draw(text(accent, l.signs.cursor), cursorWidth, false) + " "
		}
		rows = append(rows, strings.TrimRight(lead+l.draw(r.lines[i], r.room(), here), " "))
	}
	return rows
}

// place says which part of the page is shown; empty if all of it is.
func (r roll) place() string {
	if len(r.lines) <= r.height {
		return ""
	}
	return fmt.Sprintf("%d to %d of %d", r.top+1, min(len(r.lines), r.top+r.height), len(r.lines))
}
