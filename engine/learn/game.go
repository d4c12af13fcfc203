package learn

import "math"

// margin gives the most by which weights that are not negative and sum to 1 can make every row positive:
// the greatest m for which some w ≥ 0 has Σ w = 1 and Σ w row ≥ m for each. It is above zero when and only
// when weights exist that make all rows positive. Each row is brought to a greatest size of 1 first, since
// only its direction matters. Without rows the margin is without bound.
//
// That is the value of a game of two players ("Theory of games and economic behavior", 1944), found by the
// simplex method on the side of the rows. Both sides prove it: the weights reach low, and a mixture of the
// rows, in which no criterion is worth more than high, shows that none reach more. Only rounding parts the two.
func margin(rows [][]float64) (low, high float64, weights []float64) {
	if len(rows) == 0 {
		return math.Inf(1), math.Inf(1), nil
	}
	n, m := len(rows[0]), len(rows)
	unit := make([][]float64, m)
	for i, row := range rows {
		size := 0.0
		for _, x := range row {
			size = max(size, math.Abs(x))
		}
		unit[i] = make([]float64, n)
		for c, x := range row {
			if size > 0 {
				unit[i][c] = x / size
			}
		}
	}
	mixture, weights := play(unit)
	low, high = math.Inf(1), math.Inf(-1)
	for _, row := range unit {
		low = min(low, worth(weights, row))
	}
	for c := range n {
		sum := 0.0
		for i, row := range unit {
			sum += mixture[i] * row[c]
		}
		high = max(high, sum)
	}
	return low, high, weights
}

// play gives the best mixture of the rows of a game, and the best weights of its columns.
func play(rows [][]float64) (mixture, weights []float64) {
	// Shifted by 2 all entries lie from 1 to 3. Then the value is one over the greatest Σ y with Σ y row ≤ 1
	// for each column and y ≥ 0.
	const shift = 2
	n, m := len(rows[0]), len(rows)
	width := m + n + 1
	tableau := make([][]float64, n+1) // a row for each column, and what is to be made greatest
	basis := make([]int, n)
	for c := range tableau {
		tableau[c] = make([]float64, width)
	}
	for c := range n {
		basis[c] = m + c
		tableau[c][m+c], tableau[c][width-1] = 1, 1
	}
	for i, row := range rows {
		for c, x := range row {
			tableau[c][i] = x + shift
		}
		tableau[n][i] = 1
	}
	const tiny = 1e-10
	for step := range 100 * width {
		// What promises most comes in; after many steps the first that promises anything, which cannot run in
		// circles (Bland's rule).
		enters, most := -1, tiny
		for k, promise := range tableau[n][:width-1] {
			if promise > most {
				enters, most = k, promise
				if step > 10*width {
					break
				}
			}
		}
		if enters < 0 {
			break
		}
		leaves, least := -1, math.Inf(1)
		for c := range n {
			if by := tableau[c][enters]; by > tiny {
				ratio := tableau[c][width-1] / by
				if ratio < least || ratio == least && basis[c] < basis[leaves] {
					leaves, least = c, ratio
				}
			}
		}
		if leaves < 0 {
			break // rounding left nothing of what was promised
		}
		basis[leaves] = enters
		pivot(tableau, leaves, enters)
	}
	mixture, weights = make([]float64, m), make([]float64, n)
	for c, k := range basis {
		if k < m {
			mixture[k] = max(0, tableau[c][width-1])
		}
	}
	for c := range weights {
		weights[c] = max(0, -tableau[n][m+c])
	}
	for _, list := range [][]float64{mixture, weights} {
		sum := total(list)
		for k := range list {
			list[k] /= sum
		}
	}
	return mixture, weights
}

// pivot makes a column of a tableau that of a unit, with 1 in a row.
func pivot(tableau [][]float64, row, column int) {
	by := tableau[row][column]
	for k := range tableau[row] {
		tableau[row][k] /= by
	}
	for c := range tableau {
		if factor := tableau[c][column]; c != row && factor != 0 {
			for k, x := range tableau[row] {
				tableau[c][k] -= factor * x
			}
		}
	}
}
