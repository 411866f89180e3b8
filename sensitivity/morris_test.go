package sensitivity

import "math"

// morris is Morris' function of 20 inputs (1991, Technometrics 33): a polynomial
//
//	sum b_i w_i + sum b_ij w_i w_j + sum b_ijk w_i w_j w_k + b_1234 w_1 w_2 w_3 w_4
//
// over i < j < k, w_i = 2 (u_i - 1/2), or 2 (1.1 u_i/(u_i + 0.1) - 1/2) for i = 3, 5, 7,
// with b_i = 20 up to 10, b_ij = -15 up to 6, b_ijk = -10 up to 5, b_1234 = 5; the other
// b_i are (-1)^i and b_ij (-1)^(i+j). (Those were drawn from a normal law; the fixed
// ones are common.)
func morris() testFunction {
	terms := morrisTerms()
	fn := testFunction{name: "morris", f: func(u []float64) float64 { return morrisValue(terms, u) }}
	parts := map[uint32]float64{} // coefficients of the products of (w_i - mean)/sd, by set
	for _, t := range terms {
		spreadTerm(parts, t.inputs, 0, t.b)
	}
	fn.mean = parts[0]
	delete(parts, 0)
	for set, c := range parts {
		parts[set] = c * c
	}
	fn.closed = ofParts(parts)
	return fn.withIndices(20)
}

// A morrisTerm is b times the product of the w of its inputs, which count from 0.
type morrisTerm struct {
	b      float64
	inputs []int
}

func morrisTerms() []morrisTerm {
	var terms []morrisTerm
	for i := range 20 {
		b := 20.0
		if i >= 10 {
			b = signOf(i + 1)
		}
		terms = append(terms, morrisTerm{b, []int{i}})
		for j := i + 1; j < 20; j++ {
			b := -15.0
			if j >= 6 {
				b = signOf(i + j)
			}
			terms = append(terms, morrisTerm{b, []int{i, j}})
			for k := j + 1; k < 5; k++ {
				terms = append(terms, morrisTerm{-10, []int{i, j, k}})
			}
		}
	}
	return append(terms, morrisTerm{5, []int{0, 1, 2, 3}})
}

// signOf is (-1)^n.
func signOf(n int) float64 { return 1 - 2*float64(n%2) }

func morrisValue(terms []morrisTerm, u []float64) float64 {
	var w [20]float64
	for i, x := range u {
		w[i] = 2 * (x - 0.5)
		if i == 2 || i == 4 || i == 6 {
			w[i] = 2 * (1.1*x/(x+0.1) - 0.5)
		}
	}
	var y float64
	for _, t := range terms {
		p := t.b
		for _, i := range t.inputs {
			p *= w[i]
		}
		y += p
	}
	return y
}

// spreadTerm multiplies out b prod (mean_i + sd_i z_i).
func spreadTerm(parts map[uint32]float64, inputs []int, set uint32, b float64) {
	if len(inputs) == 0 {
		parts[set] += b
		return
	}
	i := inputs[0]
	mean, sd := 0.0, math.Sqrt(1.0/3)
	if i == 2 || i == 4 || i == 6 {
		// E[x/(x+c)] = 1 - c ln((1+c)/c), E[(x/(x+c))^2] = 1 - 2c ln((1+c)/c) + c/(1+c).
		const c = 0.1
		l := c * math.Log((1+c)/c)
		first, second := 1-l, 1-2*l+c/(1+c)
		mean, sd = 2.2*first-1, 2.2*math.Sqrt(second-first*first)
	}
	spreadTerm(parts, inputs[1:], set, b*mean)
	spreadTerm(parts, inputs[1:], set|1<<i, b*sd)
}
