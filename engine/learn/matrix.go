package learn

import "math"

// A matrix is square, rows first. The root of one has zeros above its diagonal.
type matrix [][]float64

// identity gives a matrix with one value on its diagonal.
func identity(n int, value float64) matrix {
	m := make(matrix, n)
	for i := range m {
		m[i] = make([]float64, n)
		m[i][i] = value
	}
	return m
}

// root gives Cholesky's lower triangle of a symmetric matrix, false where it is not positive definite.
func (m matrix) root() (matrix, bool) {
	l := identity(len(m), 0)
	for i := range m {
		for j := range i + 1 {
			sum := m[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 0) {
				return nil, false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return l, true
}

// solve gives x with L Lᵀ x = b, of a root L.
func (l matrix) solve(b []float64) []float64 {
	y := make([]float64, len(b))
	for i := range b {
		y[i] = b[i]
		for k := range i {
			y[i] -= l[i][k] * y[k]
		}
		y[i] /= l[i][i]
	}
	return l.back(y)
}

// back gives x with Lᵀ x = b, of a root L.
func (l matrix) back(b []float64) []float64 {
	x := make([]float64, len(b))
	for i := len(b) - 1; i >= 0; i-- {
		x[i] = b[i]
		for k := i + 1; k < len(b); k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x
}
