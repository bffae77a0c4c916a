package input

import "strings"

// Nearest returns the known word that word most resembles, or "" if none is
// near enough to be a slip of the keyboard: at most a third of the letters
// wrong, missing, added or swapped with their neighbour. Capitals and the
// choice between - and _ do not count.
func Nearest(word string, known []string) string {
	w := []rune(fold(word))
	if len(w) > 64 {
		return ""
	}
	best, least := "", len(w)/3+1
	for _, k := range known {
		f := []rune(fold(k))
		if len(f) > 64 {
			continue
		}
		limit := max(len(w), len(f))/3 + 1
		if d := distance(w, f); d < limit && (best == "" || d < least) {
			best, least = k, d
		}
	}
	return best
}

func fold(s string) string { return strings.ReplaceAll(strings.ToLower(s), "-", "_") }

// distance is the optimal string alignment distance: Levenshtein's, with a swap
// of two neighbours counted once.
func distance(a, b []rune) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
