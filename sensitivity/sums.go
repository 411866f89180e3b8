package sensitivity

// baseSums belong to one output: over the rows where fA and fB are feasible, of
// both columns together, around a centre.
type baseSums struct {
	rows, feasible int
	sum, square    float64
	low, high      float64 // extremes, to know a constant output exactly
}

// pairSums belong to one output and one input. What the rows with an infeasible
// fAB alone had put into baseSums is kept here, to be taken out again.
type pairSums struct {
	dropped                    int
	droppedSum, droppedSquare  float64
	product, change, changeTwo float64 // of (fB - centre) d, d and d^2 with d = fAB - fA
}

// PickFreezeSums are the sums of one slice of rows. One goroutine at a time.
type PickFreezeSums struct {
	inputs int
	centre []float64 // of each output; NaN until its first feasible row is seen
	base   []baseSums
	pairs  []pairSums // input i of output j is at j*inputs + i
}

// AddBase takes the outputs of rows of A and of B, of equal length. A value that
// is not finite is infeasible. It comes before AddSwapped of the same rows.
func (s *PickFreezeSums) AddBase(output int, fA, fB []float64) {
	b := &s.base[output]
	b.rows += len(fA)
	fB = fB[:len(fA)]
	var sum, square float64
	for k, y := range fA {
		z := fB[k]
		if y-y != 0 || z-z != 0 {
			continue
		}
		if b.feasible == 0 {
			s.begin(output, y)
		}
		b.feasible++
		b.widen(y)
		b.widen(z)
		y -= s.centre[output]
		z -= s.centre[output]
		sum += y + z
		square += float64(y*y) + float64(z*z)
	}
	b.sum += sum
	b.square += square
}

// widen takes y into the extremes.
func (b *baseSums) widen(y float64) {
	if y < b.low {
		b.low = y
	}
	if y > b.high {
		b.high = y
	}
}

// begin sets what depends on the first feasible value of a slice.
func (s *PickFreezeSums) begin(output int, y float64) {
	s.base[output].low, s.base[output].high = y, y
	if s.centre[output] != s.centre[output] {
		s.centre[output] = y
	}
}

// AddSwapped takes the outputs of rows of A, of B, and of A with the columns of
// the input from B, all of equal length. A row counts for this input and output
// if all three are finite; otherwise it is left out of the mean and the variance
// of this pair too. It may be left out for an input that the output does not
// reach, in every slice: its indices are then exactly 0.
func (s *PickFreezeSums) AddSwapped(input, output int, fA, fB, fAB []float64) {
	centre := s.centre[output]
	p := &s.pairs[output*s.inputs+input]
	fB, fAB = fB[:len(fA)], fAB[:len(fA)]
	var product, change, changeTwo float64
	for k, y := range fA {
		d := fAB[k] - y
		z := fB[k] - centre
		t, q := float64(z*d), float64(d*d)
		if u := t + q; u-u != 0 {
			p.drop(y-centre, z)
			continue
		}
		product += t
		change += d
		changeTwo += q
	}
	p.product += product
	p.change += change
	p.changeTwo += changeTwo
}

// drop takes a row of A and B, around the centre, out of the pair's base.
func (p *pairSums) drop(y, z float64) {
	if y-y != 0 || z-z != 0 {
		return // it never was in
	}
	p.dropped++
	p.droppedSum += y + z
	p.droppedSquare += float64(y*y) + float64(z*z)
}

// recentre returns the sums around another centre, e below the present one.
func (b baseSums) recentre(e float64) baseSums {
	b.sum, b.square = moved(b.feasible, b.sum, b.square, e)
	return b
}

func (p pairSums) recentre(e float64) pairSums {
	p.droppedSum, p.droppedSquare = moved(p.dropped, p.droppedSum, p.droppedSquare, e)
	p.product += float64(e * p.change)
	return p
}

// moved is the sum and the sum of squares of 2*rows values, each raised by e.
func moved(rows int, sum, square, e float64) (float64, float64) {
	m := float64(2 * rows)
	return sum + float64(m*e), square + float64(2*e*sum) + float64(m*e*e)
}

// plus joins the sums of two sets of rows around one centre.
func (b baseSums) plus(c baseSums) baseSums {
	if b.feasible == 0 {
		b.low, b.high = c.low, c.high
	} else if c.feasible > 0 {
		b.widen(c.low)
		b.widen(c.high)
	}
	b.rows += c.rows
	b.feasible += c.feasible
	b.sum += c.sum
	b.square += c.square
	return b
}

func (p pairSums) plus(c pairSums) pairSums {
	p.dropped += c.dropped
	p.droppedSum += c.droppedSum
	p.droppedSquare += c.droppedSquare
	p.product += c.product
	p.change += c.change
	p.changeTwo += c.changeTwo
	return p
}
