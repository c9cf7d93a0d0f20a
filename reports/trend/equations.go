package trend

import "math"

// equations are symmetric, positive definite ones. Gonum solves them too, but it estimates with every
// factor how well that is conditioned, which takes longer than all the rest of a fit; here each has a
// prior on its diagonal.
type equations struct {
	n      int
	matrix []float64 // row by row; only the lower triangle counts
	logDet float64   // once factored
}

func newEquations(n int) equations { return equations{n: n, matrix: make([]float64, n*n)} }

// add adds weight times the product of a row with itself.
func (e *equations) add(weight float64, row []float64) {
	for i, x := range row {
		if x == 0 {
			continue
		}
		wx, line := weight*x, e.matrix[i*e.n:]
		for j, y := range row[:i+1] {
			line[j] += wx * y
		}
	}
}

// factor replaces the matrix by its Cholesky factor.
func (e *equations) factor() {
	n, a := e.n, e.matrix
	e.logDet = 0
	for i := range n {
		line := a[i*n : i*n+i+1]
		for j := range i {
			above := a[j*n : j*n+j+1]
			sum := line[j]
			for k, x := range above[:j] {
				sum -= x * line[k]
			}
			line[j] = sum / above[j]
		}
		sum := line[i]
		for _, x := range line[:i] {
			sum -= x * x
		}
		line[i] = math.Sqrt(sum)
		e.logDet += 2 * math.Log(line[i])
	}
}

// forward solves the factor alone, in place: the square of the result is that of x by the inverse.
func (e *equations) forward(x []float64) {
	for i := range e.n {
		line := e.matrix[i*e.n : i*e.n+i+1]
		sum := x[i]
		for k, y := range line[:i] {
			sum -= y * x[k]
		}
		x[i] = sum / line[i]
	}
}

// backward solves the factor's transpose, in place.
func (e *equations) backward(x []float64) {
	for i := e.n - 1; i >= 0; i-- {
		line := e.matrix[i*e.n : i*e.n+i+1]
		x[i] /= line[i]
		for k, y := range line[:i] {
			x[k] -= y * x[i]
		}
	}
}

// solve solves the factored equations, in place.
func (e *equations) solve(x []float64) {
	e.forward(x)
	e.backward(x)
}

func dot(x, y []float64) (sum float64) {
	for i, a := range x {
		sum += a * y[i]
	}
	return sum
}
