package econ

import (
	"afterpour/chem/input"
	"afterpour/chem/units"
)

// block is how many draws are judged together: nothing is decided from a part
// of one, so that no result depends on how many threads worked on it.
const block = 500

// DefaultDraws is how many draws Refine makes at most unless it is told
// otherwise.
const DefaultDraws = 10000

// sampler draws the values of a register's figures. A figure's value in a draw
// follows from the seed, the number of the draw and the figure's id alone: not
// from the other figures, nor from who asks for it or when. So a figure has the
// same value in every plan of a draw, and keeps it when a price is edited.
type sampler struct {
	central input.Values
	doubted []doubted
}

// doubted is a figure with doubt.
type doubted struct {
	ref  input.Ref
	key  uint64
	dist units.Dist
}

// newSampler makes a sampler of the figures that which accepts; the others keep
// their central values.
func newSampler(figs *input.Figures, seed uint64, which func(id string) bool) *sampler {
	s := &sampler{central: figs.Central()}
	for i := range figs.Len() {
		fig := figs.Get(input.Ref(i))
		if fig.Dist.Shape != units.Exact && which(fig.ID) {
			s.doubted = append(s.doubted, doubted{ref: input.Ref(i), key: streamOf(seed, fig.ID), dist: fig.Dist})
		}
	}
	return s
}

// fill sets v to the values of a draw.
func (s *sampler) fill(v input.Values, draw int) {
	copy(v, s.central)
	for i := range s.doubted {
		d := &s.doubted[i]
		v[d.ref] = d.dist.Quantile(uniform(d.key, draw))
	}
}

// streamOf returns the key of the stream of random numbers that belongs to an
// id: its FNV-1a hash, mixed with the seed.
func streamOf(seed uint64, id string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(id) {
		h = (h ^ uint64(id[i])) * 1099511628211
	}
	return mixed(h ^ mixed(seed+golden))
}

const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio

// uniform returns the number of a draw in a stream, evenly spread over the open
// interval from 0 to 1.
//
// It is the counter-based form of SplitMix64 (Steele, Lea and Flood, Fast
// splittable pseudorandom number generators, OOPSLA 2014): a Weyl sequence from
// the stream's key, mixed; here mixed twice, since the keys are hashes.
func uniform(key uint64, draw int) float64 {
	x := mixed(mixed(key + uint64(draw+1)*golden))
	return (float64(x>>11) + 0.5) * 0x1p-53
}

// mixed is the finaliser of SplitMix64: every bit of the result hangs on every
// bit of x.
func mixed(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
