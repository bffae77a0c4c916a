package substance

import "afterpour/chem/units"

// Store hands the amounts of streams out of large pieces of memory and takes
// them back all at once, for a simulation that makes many thousand streams and
// throws them away. A nil Store makes streams as NewStream does. A stream of a
// Store hands its store on to what is cloned or split from it, and is not to be
// used once it has been taken back. One Store serves one goroutine.
type Store struct {
	pieces [][]float64
	used   int // streams handed out
}

// streamsInPiece is how many streams a piece of memory holds.
const streamsInPiece = 64

// Stream returns an empty stream at temperature t.
func (m *Store) Stream(t units.Temperature) Stream {
	if m == nil {
		return NewStream(t)
	}
	s := Stream{Mol: m.amounts(), Temperature: t, store: m}
	clear(s.Mol)
	return s
}

// Adopt returns a copy of a stream out of the store.
func (m *Store) Adopt(s Stream) Stream {
	if m == nil {
		return s.Clone()
	}
	s.store = m
	mol := m.amounts()
	copy(mol, s.Mol)
	s.Mol = mol
	return s
}

// amounts returns the amounts of the next stream, as somebody left them.
func (m *Store) amounts() []float64 {
	n := len(loaded().species)
	piece, place := m.used/streamsInPiece, m.used%streamsInPiece
	if piece == len(m.pieces) {
		m.pieces = append(m.pieces, make([]float64, n*streamsInPiece))
	}
	m.used++
	return m.pieces[piece][place*n : (place+1)*n : (place+1)*n]
}

// Mark says where the store stands, for Release.
func (m *Store) Mark() int {
	if m == nil {
		return 0
	}
	return m.used
}

// Release takes back every stream handed out since the mark.
func (m *Store) Release(mark int) {
	if m != nil {
		m.used = mark
	}
}
