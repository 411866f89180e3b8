package sequential

import "math"

// Populations is how many independent ones tell how sure a result is: as many as a design has
// replicates.
const Populations = 16

// A Population is rows of normal scores, Scores a row, with a value each. Its numbers are never
// changed once it is joined.
type Population struct {
	Scores int
	Z      []float64 // one row after the other
	Value  []float64 // of each row; never NaN
}

// NewPopulation makes an empty one with room for rows.
func NewPopulation(rows, scores int) Population {
	return Population{Scores: scores, Z: make([]float64, rows*scores), Value: make([]float64, rows)}
}

// Rows is how many it has.
func (p *Population) Rows() int { return len(p.Value) }

// Row is the scores of one of them.
func (p *Population) Row(i int) []float64 { return p.Z[i*p.Scores : (i+1)*p.Scores] }

// Append adds the rows of another one with as many scores.
func (p *Population) Append(q *Population) {
	p.Scores = q.Scores
	p.Z, p.Value = append(p.Z, q.Z...), append(p.Value, q.Value...)
}

// An Evaluate fills in the value of each row of normal scores; no value is NaN.
type Evaluate func(z [][]float64, value []float64)

// An Accept says whether a row goes from a value to another one; u is uniform in (0, 1).
type Accept func(from, to, u float64) bool

// A Mover makes rows of populations: it belongs to one goroutine.
type Mover struct {
	stream   Stream
	evaluate Evaluate
	draws    generator
	rows     [][]float64
	proposed Population
	chance   []float64
}

// NewMover makes one of a stream.
func NewMover(s Stream, evaluate Evaluate) *Mover { return &Mover{stream: s, evaluate: evaluate} }

// Draw fills p with rows [from, from + p.Rows()) of a population as the inputs are believed.
func (m *Mover) Draw(p *Population, population, from int) {
	for i := range p.Rows() {
		m.draws.seed(m.stream.of(0, population, from+i))
		m.draws.normals(p.Row(i))
	}
	m.value(p)
}

func (m *Mover) value(p *Population) {
	m.rows = m.rows[:0]
	for i := range p.Rows() {
		m.rows = append(m.rows, p.Row(i))
	}
	m.evaluate(m.rows, p.Value)
}

// Move lets each row of p, which are rows [from, from + p.Rows()) of a population in a round
// from 1, take moves, each by a step from 0 to 1:
//
//	z' = sqrt(1 - step^2) z + step x, x normal,
//
// taken where the value of z' is accepted. It tells how many were.
func (m *Mover) Move(p *Population, round, population, from, moves int, step float64, accept Accept) (accepted int) {
	keep := math.Sqrt(1 - float64(step*step))
	if m.proposed.Rows() < p.Rows() || m.proposed.Scores != p.Scores {
		m.proposed, m.chance = NewPopulation(p.Rows(), p.Scores), make([]float64, p.Rows())
	}
	next := Population{Scores: p.Scores, Z: m.proposed.Z[:len(p.Z)], Value: m.proposed.Value[:len(p.Value)]}
	for move := range moves {
		for i := range p.Rows() {
			m.draws.seed(m.stream.of(round, population, from+i, move))
			z, to := p.Row(i), next.Row(i)
			m.draws.normals(to)
			for k := range to {
				to[k] = float64(keep*z[k]) + float64(step*to[k])
			}
			m.chance[i] = m.draws.unit()
		}
		m.value(&next)
		for i, value := range next.Value {
			if accept(p.Value[i], value, m.chance[i]) {
				copy(p.Row(i), next.Row(i))
				p.Value[i] = value
				accepted++
			}
		}
	}
	return accepted
}

// Pick are the rows that n rows of a population go on from in a round, by their weights:
// systematic resampling with one uniform number (Kitagawa, 1996, J. Comput. Graph. Stat. 5).
// It is nil where all weights are nil.
func (s Stream) Pick(weight []float64, n, round, population int) []int {
	total := 0.0
	for _, w := range weight {
		total += w
	}
	if !(total > 0) {
		return nil
	}
	u := s.of(round, population).unit()
	picked := make([]int, n)
	sum, at, last := 0.0, 0, 0
	for i, w := range weight {
		if w > 0 {
			last = i
		}
		sum += w
		for ; at < n && float64(float64(at)+u)*total < float64(float64(n)*sum); at++ {
			picked[at] = i
		}
	}
	for ; at < n; at++ {
		picked[at] = last // what rounding left
	}
	return picked
}

// Picked fills into with the rows of p that picked names.
func (p *Population) Picked(into *Population, picked []int) {
	for i, from := range picked {
		copy(into.Row(i), p.Row(from))
		into.Value[i] = p.Value[from]
	}
}
