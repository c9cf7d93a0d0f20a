package trend

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestEquations holds factor, solutions and determinant against gonum, for sums of rows on a diagonal
// as wide apart as the model's priors.
func TestEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		e, want := newEquations(n), mat.NewSymDense(n, nil)
		for i := range n {
			diagonal := math.Pow(10, rapid.Float64Range(-4, 8).Draw(t, "diagonal"))
			e.matrix[i*n+i] = diagonal
			want.SetSym(i, i, diagonal)
		}
		row := rapid.SliceOfN(rapid.Float64Range(-9, 9), n, n)
		for range rapid.IntRange(0, 2*n).Draw(t, "rows") {
			x, weight := row.Draw(t, "row"), rapid.Float64Range(0.01, 4).Draw(t, "weight")
			e.add(weight, x)
			want.SymRankOne(want, weight, mat.NewVecDense(n, x))
		}
		var cholesky mat.Cholesky
		if !cholesky.Factorize(want) {
			t.Skip("gonum finds it not positive definite")
		}
		e.factor()
		if !alike(e.logDet, cholesky.LogDet(), 1e-9) {
			t.Fatalf("log of the determinant %.12g, want %.12g", e.logDet, cholesky.LogDet())
		}
		right := row.Draw(t, "right")
		solved, half := append([]float64(nil), right...), append([]float64(nil), right...)
		e.solve(solved)
		e.forward(half)
		x := new(mat.VecDense)
		if err := cholesky.SolveVecTo(x, mat.NewVecDense(n, right)); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				t.Fatal(err)
			}
		}
		for i := range n {
			if !alike(solved[i], x.AtVec(i), 1e-6) {
				t.Fatalf("solution %v, want %v", solved, mat.Formatted(x.T()))
			}
		}
		if square := mat.Dot(x, mat.NewVecDense(n, right)); !alike(dot(half, half), square, 1e-6) {
			t.Fatalf("square by the inverse %.12g, want %.12g", dot(half, half), square)
		}
	})
}
