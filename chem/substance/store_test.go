package substance

import (
	"testing"

	"afterpour/chem/units"
)

// Streams of a store are empty when handed out, share nothing, and come from
// the same memory again once it was taken back.
func TestStore(t *testing.T) {
	var m Store
	room := units.Celsius(20)
	kept := m.Stream(room)
	kept.Mol[3] = 5
	mark := m.Mark()
	for range 3 * streamsInPiece {
		s := m.Stream(room)
		for i, n := range s.Mol {
			if n != 0 {
				t.Fatalf("species %d of a new stream holds %g mol", i, n)
			}
			s.Mol[i] = 1
		}
		if half := s.Split(0.5, Dissolved); half.store != &m || half.Mass() <= 0 {
			t.Fatal("a split stream is not of the store")
		}
	}
	pieces := len(m.pieces)
	m.Release(mark)
	if s := m.Stream(room); s.Mass() != 0 || len(m.pieces) != pieces {
		t.Errorf("after the release: %v kg, %d pieces, want %d", s.Mass(), len(m.pieces), pieces)
	}
	if kept.Mol[3] != 5 || kept.Mass() != m.Adopt(kept).Mass() {
		t.Error("a stream before the mark has changed")
	}
}

// Without a store, streams are those of NewStream.
func TestNoStore(t *testing.T) {
	var m *Store
	s := m.Stream(units.Celsius(50))
	s.Mol[0] = 2
	c := m.Adopt(s)
	c.Mol[0] = 3
	if m.Release(m.Mark()); s.Mol[0] != 2 || c.Temperature != s.Temperature {
		t.Error("a copy shares its amounts")
	}
}
