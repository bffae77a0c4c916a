package substance

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
)

// UnknownNameError says that a table holds no such name, and which names come near it.
type UnknownNameError struct {
	What string   // "grade", "reagent", "agent", "solute"
	Name string   // as asked for
	Near []string // the nearest names of the table, best first
}

// Error names the near ones.
func (e *UnknownNameError) Error() string {
	line := fmt.Sprintf("substance: unknown %s %q", e.What, e.Name)
	if len(e.Near) > 0 {
		line += "; near it: " + strings.Join(e.Near, ", ")
	}
	return line
}

// nameIndex finds rows by any of their names, whatever the case, the order of the words and the marks between them.
type nameIndex struct {
	what  string
	rows  map[string]int
	names []string // as written, for suggestions
}

func newNameIndex(what string) *nameIndex { return &nameIndex{what: what, rows: map[string]int{}} }

// add registers names of a row; a name that another row already has is an error of the tables.
func (x *nameIndex) add(row int, names ...string) error {
	for _, n := range names {
		key := nameKey(n)
		if other, taken := x.rows[key]; taken && other != row {
			return fmt.Errorf("two rows are called %q", n)
		}
		if _, known := x.rows[key]; !known {
			x.names = append(x.names, n)
		}
		x.rows[key] = row
	}
	return nil
}

func (x *nameIndex) find(name string) (int, error) {
	if row, ok := x.rows[nameKey(name)]; ok {
		return row, nil
	}
	return 0, &UnknownNameError{What: x.what, Name: name, Near: x.near(name, 4)}
}

// nameKey keeps the words of a name in small letters, sorted, so that "925 Sterling" is "sterling-925".
func nameKey(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("^()+·", r)
	})
	words = dropPlus(words)
	sort.Strings(words)
	return strings.Join(words, " ")
}

func dropPlus(words []string) []string {
	kept := words[:0]
	for _, w := range words {
		if w != "+" && w != "and" {
			kept = append(kept, w)
		}
	}
	return kept
}

// near returns the most names that come closest to name, one a row.
func (x *nameIndex) near(name string, most int) []string {
	type match struct {
		name string
		row  int
		cost float64
	}
	var all []match
	key := nameKey(name)
	for _, n := range x.names {
		all = append(all, match{n, x.rows[nameKey(n)], nameCost(key, nameKey(n))})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].cost < all[j].cost })
	var near []string
	seen := map[int]bool{}
	for _, m := range all {
		if len(near) == most || m.cost > 0.6 {
			break
		}
		if !seen[m.row] {
			seen[m.row] = true
			near = append(near, m.name)
		}
	}
	return near
}

// nameCost judges how far two names are apart, 0 to 1: by letters, or by the words that they share.
func nameCost(a, b string) float64 {
	longest := min(max(len([]rune(a)), len([]rune(b)), 1), longestName)
	cost := float64(editDistance([]rune(a), []rune(b))) / float64(longest)
	for _, w := range strings.Fields(a) {
		if len(w) > 2 && strings.Contains(" "+b+" ", " "+w+" ") {
			cost = min(cost, 0.4)
		}
	}
	return cost
}

// longestName bounds the work that a wild name can cause.
const longestName = 80

// editDistance counts the single-letter changes between two words.
func editDistance(a, b []rune) int {
	a, b = a[:min(len(a), longestName)], b[:min(len(b), longestName)]
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, ra := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, rb := range b {
			cost := diagonal
			if ra != rb {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
