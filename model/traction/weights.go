package traction

import "math"

// A span is an orthonormal basis of what vectors of equal length span, as far as any of them
// is longer than a tolerance off it: greedy Gram-Schmidt, the vector that is worst told by
// the basis so far being taken next, and made orthogonal twice.
func span(vectors [][]float64, tolerance float64) [][]float64 {
	var basis [][]float64
	square := make([]float64, len(vectors))
	for k, v := range vectors {
		square[k] = dot(v, v)
	}
	for {
		worst := 0
		for k := range vectors {
			if square[k] > square[worst] {
				worst = k
			}
		}
		if !(math.Sqrt(square[worst]) > tolerance) || len(basis) == len(vectors) || len(basis) == len(vectors[0]) {
			return basis
		}
		q := append([]float64{}, vectors[worst]...)
		unit(q)
		for range 2 {
			for _, p := range basis {
				subtract(q, p, dot(q, p))
			}
			unit(q)
		}
		basis = append(basis, q)
		for k, v := range vectors {
			if square[k] > 0 {
				subtract(v, q, dot(v, q))
				square[k] = dot(v, v)
			}
		}
		square[worst] = 0
	}
}

// dot is summed in four chains of fixed order: one alone waits for its last addition.
func dot(x, y []float64) float64 {
	var a, b, c, d float64
	y = y[:len(x)]
	for ; len(x) >= 4 && len(y) >= 4; x, y = x[4:], y[4:] {
		a += float64(x[0] * y[0])
		b += float64(x[1] * y[1])
		c += float64(x[2] * y[2])
		d += float64(x[3] * y[3])
	}
	for i := range x {
		a += float64(x[i] * y[i])
	}
	return a + b + (c + d)
}

// subtract takes share times y off x.
func subtract(x, y []float64, share float64) {
	y = y[:len(x)]
	for i := range x {
		x[i] -= float64(share * y[i])
	}
}

func unit(x []float64) {
	length := math.Sqrt(dot(x, x))
	for i := range x {
		x[i] /= length
	}
}

// fewer returns weights, at most as many of them positive as there are rows and none
// negative, for which each row has the sum that it has with all weights one: a step of the
// simplex algorithm for each column. The weights of all columns but as many as there are rows
// are moved onto these; where one would fall below nil, it leaves them and the mover takes
// its place. false if the columns are not independent enough or rounding has spoilt a weight.
func fewer(rows [][]float64) ([]float64, bool) {
	r, n := len(rows), len(rows[0])
	t := newTableau(rows)
	if !t.reduce() {
		return nil, false
	}
	weight := make([]float64, n)
	for j := range weight {
		weight[j] = 1
	}
	for j := range n {
		if t.basic[j] || weight[j] == 0 {
			continue
		}
		move, leaves := weight[j], -1
		for i := range r {
			if x := t.rows[i][j]; x < 0 {
				if most := weight[t.column[i]] / -x; most < move {
					move, leaves = most, i
				}
			}
		}
		for i := range r {
			at := t.column[i]
			weight[at] = max(0, weight[at]+float64(move*t.rows[i][j]))
		}
		weight[j] -= move
		if leaves < 0 {
			weight[j] = 0
			continue
		}
		weight[t.column[leaves]] = 0
		t.pivot(leaves, j, j)
	}
	return solved(rows, weight, t.column)
}

// A tableau has each column as a sum of the basic ones.
type tableau struct {
	rows   [][]float64
	column []int // the basic column of each row
	basic  []bool
}

func newTableau(rows [][]float64) *tableau {
	t := &tableau{column: make([]int, len(rows)), basic: make([]bool, len(rows[0]))}
	for _, row := range rows {
		t.rows = append(t.rows, append([]float64{}, row...))
	}
	return t
}

// reduce chooses a basis, the largest pivot of each row.
func (t *tableau) reduce() bool {
	for i, row := range t.rows {
		best := 0
		for j, x := range row {
			if math.Abs(x) > math.Abs(row[best]) {
				best = j
			}
		}
		if !(math.Abs(row[best]) > 1e-12) {
			return false
		}
		t.column[i] = best
		t.pivot(i, best, 0)
	}
	return true
}

// pivot makes a column the basic one of a row; columns before from are done with.
func (t *tableau) pivot(row, column, from int) {
	t.basic[t.column[row]] = false
	t.column[row], t.basic[column] = column, true
	own := t.rows[row]
	scale := own[column]
	for j := from; j < len(own); j++ {
		own[j] /= scale
	}
	for i, other := range t.rows {
		if i != row && other[column] != 0 {
			subtract(other[from:], own[from:], other[column])
		}
	}
}

// solved finds the weights of the basic columns anew, free of what the tableau has gathered
// in rounding: Newton's refinement with a fresh elimination of these columns alone.
func solved(rows [][]float64, weight []float64, basis []int) ([]float64, bool) {
	r, n := len(rows), len(rows[0])
	square := newSquare(rows, basis)
	if !square.factor() {
		return nil, false
	}
	for j := range weight {
		weight[j] = 0
	}
	at := make([]float64, r)
	for range 3 {
		for i, row := range rows {
			at[i] = 0
			for j := range n {
				at[i] += float64(row[j] * (1 - weight[j]))
			}
		}
		square.solve(at)
		for k, j := range basis {
			weight[j] += at[k]
		}
	}
	for _, j := range basis {
		if !(weight[j] >= 0) {
			return nil, false
		}
	}
	return weight, true
}

// A square is a matrix in the factors of Gaussian elimination with the largest pivot of a
// column.
type square struct {
	a     [][]float64
	order []int
}

func newSquare(rows [][]float64, columns []int) *square {
	s := new(square)
	for i, row := range rows {
		own := make([]float64, len(columns))
		for k, j := range columns {
			own[k] = row[j]
		}
		s.a, s.order = append(s.a, own), append(s.order, i)
	}
	return s
}

func (s *square) factor() bool {
	for k := range s.a {
		best := k
		for i := k + 1; i < len(s.a); i++ {
			if math.Abs(s.a[i][k]) > math.Abs(s.a[best][k]) {
				best = i
			}
		}
		if !(math.Abs(s.a[best][k]) > 0) {
			return false
		}
		s.a[k], s.a[best] = s.a[best], s.a[k]
		s.order[k], s.order[best] = s.order[best], s.order[k]
		for i := k + 1; i < len(s.a); i++ {
			share := s.a[i][k] / s.a[k][k]
			subtract(s.a[i][k+1:], s.a[k][k+1:], share)
			s.a[i][k] = share
		}
	}
	return true
}

// solve puts the solution in the place of the right side.
func (s *square) solve(b []float64) {
	x := make([]float64, len(b))
	for i, row := range s.a {
		x[i] = b[s.order[i]] - dot(row[:i], x[:i])
	}
	for i := len(x) - 1; i >= 0; i-- {
		x[i] = (x[i] - dot(s.a[i][i+1:], x[i+1:])) / s.a[i][i]
	}
	copy(b, x)
}
