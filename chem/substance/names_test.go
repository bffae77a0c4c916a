package substance

import (
	"errors"
	"testing"
)

func TestNameIndex(t *testing.T) {
	x := newNameIndex("fruit")
	for i, names := range [][]string{{"red apple", "apple-red"}, {"pear", "conference pear"}} {
		if err := x.add(i, names...); err != nil {
			t.Fatal(err)
		}
	}
	if err := x.add(2, "Pear"); err == nil {
		t.Error("two rows share a name")
	}
	for name, want := range map[string]int{"Apple, red": 0, "PEAR": 1, "pear conference": 1} {
		if got, err := x.find(name); err != nil || got != want {
			t.Errorf("find(%q) = %d, %v; want %d", name, got, err, want)
		}
	}
	var unknown *UnknownNameError
	if _, err := x.find("peer"); !errors.As(err, &unknown) || len(unknown.Near) == 0 || unknown.Near[0] != "pear" {
		t.Errorf("find(peer) = %v", err)
	}
	if want := `substance: unknown fruit "peer"; near it: pear`; unknown.Error() != want {
		t.Errorf("Error = %q, want %q", unknown.Error(), want)
	}
}

func TestEditDistance(t *testing.T) {
	cases := map[[2]string]int{{"", ""}: 0, {"kitten", "sitting"}: 3, {"pear", ""}: 4, {"", "pear"}: 4, {"ä", "a"}: 1}
	for pair, want := range cases {
		if got := editDistance([]rune(pair[0]), []rune(pair[1])); got != want {
			t.Errorf("editDistance(%q, %q) = %d, want %d", pair[0], pair[1], got, want)
		}
	}
}
