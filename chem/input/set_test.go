package input

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestSet compares with a map, and checks that no method changes the receiver.
func TestSet(t *testing.T) {
	refs := rapid.SliceOfN(rapid.Map(rapid.IntRange(-1, 300), func(i int) Ref { return Ref(i) }), 0, 20)
	rapid.Check(t, func(t *rapid.T) {
		x, y := refs.Draw(t, "x"), refs.Draw(t, "y")
		a, b := Set(nil).With(x...), Set(nil).With(y...)
		before := slices.Clone(a)
		union := a.Union(b)
		wantSame(t, a, x)
		wantSame(t, union, append(slices.Clone(x), y...))
		wantSame(t, a.With(y...), append(slices.Clone(x), y...))
		if !slices.Equal(a, before) {
			t.Fatal("Union or With changed the receiver")
		}
	})
}

func wantSame(t *rapid.T, s Set, refs []Ref) {
	t.Helper()
	want := slices.DeleteFunc(slices.Clone(refs), func(r Ref) bool { return r < 0 })
	slices.Sort(want)
	want = slices.Compact(want)
	if got := s.Refs(); !slices.Equal(got, want) {
		t.Fatalf("the set holds %v, want %v", got, want)
	}
	for _, r := range want {
		if !s.Has(r) {
			t.Fatalf("Has(%d) is false in %v", r, want)
		}
	}
	if s.Has(NoRef) || s.Has(1000) {
		t.Fatal("the set holds what was never added")
	}
}
