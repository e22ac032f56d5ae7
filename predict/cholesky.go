package predict

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// factor is the Cholesky factor of a precision. It is gonum's, without the condition
// number that mat.Cholesky works out each time: a third of a forecast would go to it.
type factor struct{ upper blas64.Triangular }

// newFactor takes the precision over; false where it is not positive definite.
func newFactor(precision *mat.SymDense) (f factor, ok bool) {
	f.upper, ok = lapack64.Potrf(precision.RawSymmetric())
	return f, ok
}

// logDet is that of the precision.
func (f factor) logDet() (sum float64) {
	for i := range f.upper.N {
		sum += 2 * math.Log(f.upper.Data[i*f.upper.Stride+i])
	}
	return sum
}

// solve divides the columns of b by the precision, in place.
func (f factor) solve(b *mat.Dense) { lapack64.Potrs(f.upper, b.RawMatrix()) }

// solveVec divides a vector by the precision, in place.
func (f factor) solveVec(v []float64) {
	x := blas64.Vector{N: len(v), Data: v, Inc: 1}
	blas64.Trsv(blas.Trans, f.upper, x)
	blas64.Trsv(blas.NoTrans, f.upper, x)
}

// half divides the columns of b by the factor alone, in place: the square of what is left is
// b' C b, with C the covariance.
func (f factor) half(b *mat.Dense) blas64.General {
	x := b.RawMatrix()
	blas64.Trsm(blas.Left, blas.Trans, 1, f.upper, x)
	return x
}

// sym is the precision.
func (f factor) sym() *mat.SymDense {
	n := f.upper.N
	u := mat.NewTriDense(n, mat.Upper, nil)
	for i := range n {
		for j := i; j < n; j++ {
			u.SetTri(i, j, f.upper.Data[i*f.upper.Stride+j])
		}
	}
	s := mat.NewSymDense(n, nil)
	s.SymOuterK(1, u.T())
	return s
}

// inverse is the covariance, both of its triangles, row by row.
func (f factor) inverse() []float64 {
	n := f.upper.N
	c := f.upper
	c.Data, c.Stride = make([]float64, n*n), n
	for i := range n {
		copy(c.Data[i*n+i:(i+1)*n], f.upper.Data[i*f.upper.Stride+i:])
	}
	lapack64.Potri(c)
	for i := range n {
		for j := range i {
			c.Data[i*n+j] = c.Data[j*n+i]
		}
	}
	return c.Data
}
