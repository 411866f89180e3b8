package sensitivity

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// A game is a test function with the law of its inputs: pairs of rows, and rows of A
// with a set of inputs drawn anew given the others.
type game struct {
	testFunction
	inputs int
	draw   func(random *rand.Rand, n int) (a, b [][]float64)
	redraw func(a, b [][]float64, set uint32) [][]float64
}

// independently is the game of a function of independent inputs.
func independently(fn testFunction) game {
	d := len(fn.first)
	return game{fn, d,
		func(random *rand.Rand, n int) (a, b [][]float64) {
			u := latin(random, n, 2*d)
			return u[:d], u[d:]
		},
		func(a, b [][]float64, set uint32) [][]float64 {
			for ; set != 0; set &= set - 1 {
				a = swapped(a, b, bits.TrailingZeros32(set))
			}
			return a
		},
	}
}

// gaussian is the sum of beta_i x_i, x jointly normal around 0 with this covariance.
// Inputs are drawn anew by the textbook law of a normal given others, from a solver
// that has nothing to do with this program.
func gaussian(beta []float64, covariance *mat.SymDense) game {
	d := len(beta)
	cost := func(u uint32) float64 { // Var(Y | X_-u), which depends on no value
		var v float64
		k, in, out := conditional(covariance, u)
		for i, p := range in {
			for j, q := range in {
				c := covariance.At(p, q)
				for m, r := range out {
					c -= k.At(i, m) * covariance.At(r, in[j])
				}
				v += beta[p] * beta[q] * c
			}
		}
		return v
	}
	all := uint32(1)<<d - 1
	fn := testFunction{name: "gaussian", f: func(x []float64) float64 {
		var y float64
		for i, b := range beta {
			y += b * x[i]
		}
		return y
	}, closed: func(u uint32) float64 { return cost(all) - cost(all&^u) }}.withIndices(d)
	return game{fn, d, func(random *rand.Rand, n int) (a, b [][]float64) {
		u := latin(random, n, 2*d)
		return normals(u[:d], covariance), normals(u[d:], covariance)
	}, func(a, b [][]float64, set uint32) [][]float64 { return conditioned(a, b, covariance, set) }}
}

// conditional returns K = S_uc S_cc^-1 for the set u of inputs and the others, c.
func conditional(covariance *mat.SymDense, u uint32) (k *mat.Dense, in, out []int) {
	for i := range covariance.SymmetricDim() {
		if u>>i&1 == 1 {
			in = append(in, i)
		} else {
			out = append(out, i)
		}
	}
	k = new(mat.Dense)
	if len(in) == 0 || len(out) == 0 {
		return k, in, out
	}
	cc, cu := mat.NewDense(len(out), len(out), nil), mat.NewDense(len(out), len(in), nil)
	for i, p := range out {
		for j, q := range out {
			cc.Set(i, j, covariance.At(p, q))
		}
		for j, q := range in {
			cu.Set(i, j, covariance.At(p, q))
		}
	}
	var kt mat.Dense
	if err := kt.Solve(cc, cu); err != nil {
		panic(err) // no test has a singular covariance
	}
	k.CloneFrom(kt.T())
	return k, in, out
}

// normals turns points of the unit cube into normals with this covariance.
func normals(u [][]float64, covariance *mat.SymDense) [][]float64 {
	var c mat.Cholesky
	c.Factorize(covariance)
	var l mat.TriDense
	c.LTo(&l)
	x := make([][]float64, len(u))
	for i := range u {
		x[i] = make([]float64, len(u[0]))
		for j := range i + 1 {
			for row, p := range u[j] {
				x[i][row] += l.At(i, j) * normal(p)
			}
		}
	}
	return x
}

// conditioned is a with the inputs of u drawn anew given its others: of b, moved by
// K times the difference of the others.
func conditioned(a, b [][]float64, covariance *mat.SymDense, u uint32) [][]float64 {
	k, in, out := conditional(covariance, u)
	x := slices.Clone(a)
	for i, p := range in {
		x[p] = slices.Clone(b[p])
		for j, q := range out {
			for row := range x[p] {
				x[p][row] += k.At(i, j) * (a[q][row] - b[q][row])
			}
		}
	}
	return x
}

// parseGaussian reads "beta=1 1 sd=1 2 rho12=0.5".
func parseGaussian(s string) game {
	var beta, sd []float64
	list, rho := &beta, map[[2]int]float64{}
	for _, word := range strings.Fields(s) {
		name, value, named := strings.Cut(word, "=")
		if !named {
			value = word
		}
		v, err := strconv.ParseFloat(value, 64)
		if err != nil {
			panic(err)
		}
		if strings.HasPrefix(name, "rho") {
			rho[[2]int{int(name[3] - '1'), int(name[4] - '1')}] = v
			continue
		}
		if name == "sd" {
			list = &sd
		}
		*list = append(*list, v)
	}
	c := mat.NewSymDense(len(sd), nil)
	for i, s := range sd {
		c.SetSym(i, i, s*s)
	}
	for at, r := range rho {
		c.SetSym(at[0], at[1], r*sd[at[0]]*sd[at[1]])
	}
	return gaussian(beta, c)
}

// bySubsets plays with all sets of the players, each a set of inputs.
func (g game) bySubsets(seed uint64, rows int, players []uint32) *Shapley {
	s, random := NewShapley(len(players), 1, replicates), newRandom(seed)
	for r := range replicates {
		a, b := g.draw(random, rows/replicates)
		sums := s.NewSums()
		var subsets [][]float64
		for m := 1; m < 1<<len(players); m++ {
			var set uint32
			for i, p := range players {
				set |= p * uint32(m>>i&1)
			}
			subsets = append(subsets, values(g.f, g.redraw(a, b, set)))
		}
		sums.AddSubsets(0, values(g.f, a), subsets)
		s.Join(r, sums)
	}
	return s
}

// byWalks plays with one order a block of rows, as order gives it.
func (g game) byWalks(seed uint64, rows, block int, players []uint32, order func(block int) []int) *Shapley {
	s, random, number := NewShapley(len(players), 1, replicates), newRandom(seed), 0
	for r := range replicates {
		a, b := g.draw(random, rows/replicates)
		sums := s.NewSums()
		for from := 0; from < rows/replicates; from += block {
			partA, partB := part(a, from, block), part(b, from, block)
			walk := order(number)
			number++
			var steps [][]float64
			var set uint32
			for _, p := range walk {
				set |= players[p]
				steps = append(steps, values(g.f, g.redraw(partA, partB, set)))
			}
			sums.AddWalk(0, walk, values(g.f, partA), steps)
		}
		s.Join(r, sums)
	}
	return s
}

func part(columns [][]float64, from, n int) [][]float64 {
	p := make([][]float64, len(columns))
	for j, c := range columns {
		p[j] = c[from:min(from+n, len(c))]
	}
	return p
}

func singles(d int) []uint32 {
	players := make([]uint32, d)
	for i := range players {
		players[i] = 1 << i
	}
	return players
}

// permutations are the orders of d players for a seed.
func permutations(d int, seed uint64) func(block int) []int {
	return func(block int) []int {
		order := make([]int, d)
		Permutation(order, seed, block)
		return order
	}
}
