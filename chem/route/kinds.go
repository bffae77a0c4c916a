package route

import (
	"sort"

	"afterpour/chem/units"
)

// stepKind is one kind of bench step: which keys it reads, which it cannot do
// without, and how it is carried out.
type stepKind struct {
	figures []figureKey
	words   []string
	needs   []string
	outs    int  // least number of streams it gives
	fumes   bool // may send what it gives off to a second stream
	run     func(*run) *Block
}

// figureKey is a figure that a kind reads, and what it measures.
type figureKey struct {
	name string
	kind units.Kind
}

// kinds are the step kinds by the name that route files use. Each is
// documented in its own file.
var kinds map[string]stepKind

// Filled in by init because the run functions look their own kind up.
func init() {
	kinds = map[string]stepKind{
		"add":         addKind,
		"settle":      settleKind,
		"wash":        washKind,
		"boil-down":   boilDownKind,
		"calcine":     calcineKind,
		"scrub":       scrubKind,
		"crystallise": crystalliseKind,
		"cement":      cementKind,
		"electrolyse": electrolyseKind,
		"dry":         dryKind,
		"melt":        meltKind,
		"acidify":     acidifyKind,
		"fuse":        fuseKind,
		"dissolve":    dissolveKind,
		"react":       reactKind,
	}
}

func kindNames() []string {
	names := make([]string, 0, len(kinds))
	for name := range kinds {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}
