package stoich

import "math/big"

// nullSpace returns a basis of the vectors x with A x = 0, by exact row reduction. One row of A is one conserved thing.
func nullSpace(a [][]*big.Rat) [][]*big.Rat {
	if len(a) == 0 {
		return nil
	}
	columns := len(a[0])
	pivots := reduce(a, columns)
	var basis [][]*big.Rat
	for free := range columns {
		if _, bound := pivots[free]; bound {
			continue
		}
		x := make([]*big.Rat, columns)
		for i := range x {
			x[i] = new(big.Rat)
		}
		x[free].SetInt64(1)
		for column, row := range pivots {
			x[column].Neg(a[row][free])
		}
		basis = append(basis, x)
	}
	return basis
}

// reduce brings a to reduced row echelon form in place and returns pivot column → row.
func reduce(a [][]*big.Rat, columns int) map[int]int {
	pivots := map[int]int{}
	next := 0
	for column := range columns {
		row := next
		for row < len(a) && a[row][column].Sign() == 0 {
			row++
		}
		if row == len(a) {
			continue
		}
		a[next], a[row] = a[row], a[next]
		eliminate(a, next, column)
		pivots[column] = next
		next++
	}
	return pivots
}

// eliminate scales the pivot row to 1 and clears the column in every other row.
func eliminate(a [][]*big.Rat, pivot, column int) {
	inverse := new(big.Rat).Inv(a[pivot][column])
	for _, v := range a[pivot] {
		v.Mul(v, inverse)
	}
	for i, row := range a {
		if i == pivot || row[column].Sign() == 0 {
			continue
		}
		factor := new(big.Rat).Set(row[column])
		for j, v := range row {
			v.Sub(v, new(big.Rat).Mul(factor, a[pivot][j]))
		}
	}
}

// smallest scales a vector to whole numbers without a common divisor, the first nonzero one positive.
func smallest(x []*big.Rat) []*big.Int {
	multiple := big.NewInt(1)
	for _, v := range x {
		d := v.Denom()
		g := new(big.Int).GCD(nil, nil, multiple, d)
		multiple.Mul(multiple, new(big.Int).Quo(d, g))
	}
	whole := make([]*big.Int, len(x))
	divisor := new(big.Int)
	for i, v := range x {
		whole[i] = new(big.Int).Mul(v.Num(), new(big.Int).Quo(multiple, v.Denom()))
		divisor.GCD(nil, nil, divisor, new(big.Int).Abs(whole[i]))
	}
	negative := false
	for _, n := range whole {
		if n.Sign() != 0 {
			negative = n.Sign() < 0
			break
		}
	}
	for _, n := range whole {
		if divisor.Sign() != 0 {
			n.Quo(n, divisor)
		}
		if negative {
			n.Neg(n)
		}
	}
	return whole
}
