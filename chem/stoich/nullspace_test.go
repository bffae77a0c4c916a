package stoich

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// TestNullSpace: every basis vector is annihilated, and their number is columns less rank (checked on matrices whose
// rank is known by construction: k independent rows, the rest copies).
func TestNullSpace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(1, 7).Draw(t, "columns")
		rank := rapid.IntRange(0, columns).Draw(t, "rank")
		var a, keep [][]*big.Rat
		for i := range rank {
			row := make([]*big.Rat, columns)
			for j := range row {
				row[j] = new(big.Rat)
				if j > i {
					row[j].SetInt64(int64(rapid.IntRange(-9, 9).Draw(t, "entry")))
				}
			}
			row[i].SetInt64(int64(rapid.IntRange(1, 9).Draw(t, "pivot")))
			a = append(a, row)
		}
		if rank > 0 {
			a = append(a, copyRow(a[rapid.IntRange(0, rank-1).Draw(t, "copy")]))
		}
		for _, row := range a {
			keep = append(keep, copyRow(row))
		}
		if len(a) == 0 {
			return
		}
		basis := nullSpace(a)
		if len(basis) != columns-rank {
			t.Fatalf("%d vectors, want %d", len(basis), columns-rank)
		}
		for _, x := range basis {
			for _, row := range keep {
				sum := new(big.Rat)
				for j, v := range row {
					sum.Add(sum, new(big.Rat).Mul(v, x[j]))
				}
				if sum.Sign() != 0 {
					t.Fatalf("A x = %s", sum)
				}
			}
		}
	})
	if nullSpace(nil) != nil {
		t.Error("the null space of nothing is not empty")
	}
}

func copyRow(row []*big.Rat) []*big.Rat {
	out := make([]*big.Rat, len(row))
	for i, v := range row {
		out[i] = new(big.Rat).Set(v)
	}
	return out
}

func TestSmallest(t *testing.T) {
	got := smallest([]*big.Rat{big.NewRat(-1, 2), new(big.Rat), big.NewRat(2, 3)})
	for i, want := range []int64{3, 0, -4} {
		if got[i].Int64() != want {
			t.Errorf("smallest(-1/2, 0, 2/3)[%d] = %s, want %d", i, got[i], want)
		}
	}
}
