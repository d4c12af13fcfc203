package learn

import "math"

// margin gives the most by which weights that are not negative and sum to 1 can make every row positive:
// the greatest m for which some w ≥ 0 has Σ w = 1 and Σ w row ≥ m for each. It is above zero when and only
// when weights exist that make all rows positive. Without rows it is without bound.
//
// The weights are those that reach it. That is the value of a game of two players ("Theory of games and economic behavior", 1944), found by the
// simplex method on the side of the rows, with Bland's rule, which cannot run in circles. Each row is
// brought to a greatest size of 1 first, since only its direction matters.
func margin(rows [][]float64) (most float64, weights []float64) {
	if len(rows) == 0 {
		return math.Inf(1), nil
	}
	// Shifted by 2 all entries lie from 1 to 3. Then the greatest Σ y with Σ y row ≤ 1 for each criterion
	// and y ≥ 0 is one over the value.
	const shift = 2
	n, m := len(rows[0]), len(rows)
	width := m + n + 1
	tableau := make([][]float64, n+1) // a row for each criterion, and what is to be made greatest
	basis := make([]int, n)
	for c := range tableau {
		tableau[c] = make([]float64, width)
	}
	for c := range n {
		basis[c] = m + c
		tableau[c][m+c], tableau[c][width-1] = 1, 1
	}
	for i, row := range rows {
		size := 0.0
		for _, x := range row {
			size = max(size, math.Abs(x))
		}
		for c, x := range row {
			if size > 0 {
				x /= size
			}
			tableau[c][i] = x + shift
		}
		tableau[n][i] = 1
	}
	const tiny = 1e-12
	for range 100 * width { // rounding could lead in a circle; what is known by then is no less than the margin
		enters := -1
		for k := range width - 1 {
			if tableau[n][k] > tiny {
				enters = k
				break
			}
		}
		if enters < 0 {
			break
		}
		leaves := -1
		for c := range n {
			if tableau[c][enters] <= tiny {
				continue
			}
			if leaves >= 0 {
				ratio, least := tableau[c][width-1]*tableau[leaves][enters], tableau[leaves][width-1]*tableau[c][enters]
				if ratio > least || ratio == least && basis[c] > basis[leaves] {
					continue
				}
			}
			leaves = c
		}
		// All entries of a shifted row are positive, so that one of them bounds what enters.
		basis[leaves] = enters
		pivot(tableau, leaves, enters)
	}
	sum := -tableau[n][width-1]
	weights = make([]float64, n)
	for c := range weights {
		weights[c] = -tableau[n][m+c] / sum
	}
	return 1/sum - shift, weights
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
