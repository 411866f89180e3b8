package claim

import (
	"fmt"
	"math"

	"proofmass/sensitivity/estimate"
)

// A Worth is what it is worth to a claim to learn something: how much less often one would be
// wrong who says of each draw that the claim holds, or that it fails, whichever is likelier by
// what is known (expected value of partial information under 0-1 loss; Raiffa and Schlaifer
// 1961, Applied Statistical Decision Theory; by classes Strong and Oakley 2013, Med. Decis.
// Making 33).
type Worth struct {
	Risk  float64 // of being wrong now: the less of the chances that it holds and that it fails
	Gain  Figure  // by how much that falls; NaN below FewestLearnt rows
	Share float64 // of the variance of the yes or no that goes: first-order index, bias taken off
	Turns bool    // in some class the likelier answer is not that of all rows: else no gain can be
}

// FewestLearnt is the number of rows below which no gain is told: 16 replicates of 256.
const FewestLearnt = 16 * 256

const (
	rowsAClass  = 200 // of about so many rows a class is made
	fewestClass = 20
	mostClass   = 128
	fewestSteps = 4   // of each of two things that are learnt together
	mostSteps   = 20  // likewise
	finer       = 16  // times the classes, for claims that change within one
	leftOut     = 1.7 // widening of answers that leave one replicate out
)

// Learnt holds the rows in classes of what would be learnt of them, for several claims. It is
// only read once it is made.
type Learnt struct {
	cut    []classing // coarse, then fine where there is one
	bounds []int      // of the replicates, or of blocks of independent rows
	weight []float64
}

// A classing is the class of each row, in the order of what is learnt.
type classing struct {
	class []int32
	n     int
}

// NewLearnt cuts what would be learnt, a value a row, into classes of equal weight: a
// two-hundredth of the rows, or of the effective ones of weighted rows, from 20 to 128, and into
// 16 times as many, which show a claim that changes within a class. No more values than classes
// are a class each; else equal values are parted by row. What is NaN is learnt to be so, in a
// class of its own. A gauge's error is the caller's: what is learnt is then the reading. The
// error names an infinite row, or what is wrong with d.
func NewLearnt(x []float64, d estimate.Rows) (*Learnt, error) {
	l, err := learnt(d, len(x))
	if err != nil {
		return nil, err
	}
	if err := notInfinite(x); err != nil {
		return nil, err
	}
	count := min(max(int(effectiveRows(d, len(x))/rowsAClass), fewestClass), mostClass)
	for i, count := range []int{count, finer * count} {
		l.cut = append(l.cut, classing{class: make([]int32, len(x))})
		l.cut[i].n = cutRows(x, d.Weight, nil, 0, count, l.cut[i].class)
	}
	return l, nil
}

// NewLearntPair is NewLearnt for two things that are learnt together: classes of the first are
// cut by the second, into 4 to 20 each.
func NewLearntPair(x, y []float64, d estimate.Rows) (*Learnt, error) {
	if len(x) != len(y) {
		return nil, fmt.Errorf("claim: %d rows of the one, %d of the other", len(x), len(y))
	}
	l, err := learnt(d, len(x))
	if err != nil {
		return nil, err
	}
	for _, column := range [][]float64{x, y} {
		if err := notInfinite(column); err != nil {
			return nil, err
		}
	}
	steps := min(max(int(math.Sqrt(effectiveRows(d, len(x))/rowsAClass)), fewestSteps), mostSteps)
	first, both := make([]int32, len(x)), classing{class: make([]int32, len(x))}
	for k, n := 0, cutRows(x, d.Weight, nil, 0, steps, first); k < n; k++ {
		kept := func(row int) bool { return first[row] == int32(k) }
		both.n = cutRows(y, d.Weight, kept, both.n, steps, both.class)
	}
	l.cut = []classing{both}
	return l, nil
}

func learnt(d estimate.Rows, n int) (*Learnt, error) {
	if err := d.CheckWeights(n); err != nil {
		return nil, fmt.Errorf("claim: %w", err)
	}
	bounds, err := blockBounds(d, n)
	if err != nil {
		return nil, err
	}
	return &Learnt{bounds: bounds, weight: d.Weight}, nil
}

func notInfinite(x []float64) error {
	for i, v := range x {
		if math.IsInf(v, 0) {
			return fmt.Errorf("claim: row %d of what is learnt is %g, want a finite number or NaN", i, v)
		}
	}
	return nil
}

// effectiveRows are Kish's, all of them where weights are equal.
func effectiveRows(d estimate.Rows, n int) float64 {
	if d.Weight == nil {
		return float64(n)
	}
	var all estimate.Weighing
	for _, w := range d.Weight {
		all.Add(w, false)
	}
	return all.Kish()
}

// cutRows puts the rows that are kept (nil: all) into classes from the number from on, and
// returns the number behind the last.
func cutRows(x, weight []float64, kept func(int) bool, from, count int, class []int32) int {
	next := from
	estimate.InOrder(x, kept, func(order []estimate.Place) { next = cutInOrder(order, weight, from, count, class) })
	unknown := false
	for row, v := range x {
		if v != v && (kept == nil || kept(row)) {
			class[row], unknown = int32(next), true
		}
	}
	if unknown {
		next++
	}
	return next
}

// cutInOrder is cutRows for rows in the order of their values.
func cutInOrder(order []estimate.Place, weight []float64, from, count int, class []int32) int {
	total, values := 0.0, 0
	for i, p := range order {
		total += weightOf(weight, int(p.Row))
		if i == 0 || p.X != order[i-1].X {
			values++
		}
	}
	next, last, below := from, -1, 0.0
	for i, p := range order {
		w := weightOf(weight, int(p.Row))
		k := int((below + w/2) / total * float64(count))
		if values <= count {
			k = last
			if i == 0 || p.X != order[i-1].X {
				k++
			}
		}
		if k != last {
			last, next = k, next+1
		}
		class[p.Row] = int32(next - 1)
		below += w
	}
	return next
}

// A tally is the weight of rows, and of those of them that hold.
type tally struct{ estimate.Weighing }

// wrong is the weight for which a verdict is wrong.
func (t tally) wrong(holds bool) float64 {
	if holds {
		return t.All - t.Held
	}
	return t.Held
}

// holds is the likelier answer.
func (t tally) holds() bool { return 2*t.Held >= t.All }

func (t *tally) add(u tally, sign float64) {
	t.Held += float64(sign * u.Held)
	t.All += float64(sign * u.All)
	t.Square += float64(sign * u.Square)
}

// Of is the worth to a claim, in O(n). A row that is infeasible does not hold. level is that of
// the interval, 0 counts as 0.95.
//
// The gain by classes is too great, since each class chooses its own answer by the rows that it
// is judged by: an input without influence on an even claim would gain 0.03. With the answers
// of one replicate's rows chosen by all the others it is too small. With N the first, C the
// second, s the larger of their standard errors over the R replicates and t of R-1 degrees of
// freedom, the gain is (N + C)/2, not below 0, and its interval max(0, C - 1.7 t s) to N + t s:
// the 1.7 because answers that leave one replicate out are nearly the same. The interval is
// wide on purpose: of 800 studies of 4096 rows each, with normal inputs that act, act little or
// do nothing, learnt exactly or by a gauge, 95 % ones held the exact gain in 94 to 100 %
// (TestWorthCoverage). A gain so small that no class shows it comes out as 0.
//
// Where C - t s/3 of the fine classes, though too small, is above N of the coarse ones, the
// claim changes within a coarse one (it holds from a limit of what is learnt on, say): theirs
// are told, with what is still judged wrongly in the classes where the answer changes added to
// the upper end.
func (l *Learnt) Of(holds []float64, level float64) (Worth, error) {
	if level == 0 {
		level = 0.95
	}
	if !(level > 0 && level < 1) {
		return Worth{}, fmt.Errorf("claim: level %g must lie between 0 and 1", level)
	}
	if rows := l.bounds[len(l.bounds)-1]; len(holds) != rows {
		return Worth{}, fmt.Errorf("claim: %d rows of a claim for %d of what is learnt", len(holds), rows)
	}
	if err := new(Verdict).count(holds, 0); err != nil {
		return Worth{}, err
	}
	nan := math.NaN()
	w := Worth{Gain: Figure{nan, estimate.None()}, Risk: nan, Share: nan}
	most := math.Inf(-1) // N of the coarse classes
	for i, c := range l.cut {
		t := l.tallied(c, holds)
		if !(t.all.All > 0) {
			return w, nil
		}
		if i == 0 {
			w.Risk, w.Share = t.all.wrong(t.all.holds())/t.all.All, t.share()
		}
		w.Turns = w.Turns || i == 0 && t.turns()
		if len(holds) < FewestLearnt || len(t.ofReplicate) < 2 {
			continue
		}
		n, apart, half := t.gains(level)
		if apart-half/3 <= most {
			continue
		}
		most = n
		w.Gain = Figure{max(0, (n+apart)/2), estimate.Interval{Low: max(0, apart-float64(leftOut*half)), High: n + half}}
		if i > 0 {
			w.Gain.High += t.betweenAnswers()
			w.Turns = w.Turns || w.Gain.Low > 0
		}
	}
	return w, nil
}

// tallies are the rows of one classing.
type tallies struct {
	cells       [][]tally // of a replicate and a class
	ofClass     []tally
	ofReplicate []tally
	all         tally
}

func (l *Learnt) tallied(c classing, holds []float64) *tallies {
	replicates := len(l.bounds) - 1
	t := &tallies{cells: make([][]tally, replicates), ofClass: make([]tally, c.n), ofReplicate: make([]tally, replicates)}
	for r := range t.cells {
		t.cells[r] = make([]tally, c.n)
		for row := l.bounds[r]; row < l.bounds[r+1]; row++ {
			w := weightOf(l.weight, row)
			t.cells[r][c.class[row]].Add(w, holds[row] == 1)
		}
		for k, cell := range t.cells[r] {
			t.ofClass[k].add(cell, 1)
			t.ofReplicate[r].add(cell, 1)
			t.all.add(cell, 1)
		}
	}
	return t
}

// turns reports whether the likelier answer of some class is not that of all.
func (t *tallies) turns() bool {
	for _, c := range t.ofClass {
		if c.All > 0 && 2*c.Held != c.All && c.holds() != t.all.holds() {
			return true
		}
	}
	return false
}

// gains are the gain with each class's answer taken from all its rows, with that taken from
// the other replicates', and t times the larger of their errors.
func (t *tallies) gains(level float64) (naive, apart, half float64) {
	n, c := make([]float64, len(t.cells)), make([]float64, len(t.cells)) // weight of each replicate's rows
	for r, cells := range t.cells {
		others := t.all
		others.add(t.ofReplicate[r], -1)
		n[r], c[r] = t.ofReplicate[r].wrong(t.all.holds()), t.ofReplicate[r].wrong(others.holds())
		for k, cell := range cells {
			n[r] -= cell.wrong(t.ofClass[k].holds())
			answer := others.holds()
			if rest := t.ofClass[k]; rest.All > cell.All {
				rest.add(cell, -1)
				answer = rest.holds()
			}
			c[r] -= cell.wrong(answer)
		}
	}
	naive, one := ratioAndError(n, t.ofReplicate)
	apart, other := ratioAndError(c, t.ofReplicate)
	return naive, apart, estimate.StudentQuantile(level, len(t.cells)-1) * max(one, other)
}

// betweenAnswers is the share judged wrongly in classes whose neighbours' answers differ.
func (t *tallies) betweenAnswers() float64 {
	sum := 0.0
	for k := range t.ofClass {
		before, behind := t.ofClass[max(k-1, 0)], t.ofClass[min(k+1, len(t.ofClass)-1)]
		if before.holds() != behind.holds() {
			sum += t.ofClass[k].wrong(t.ofClass[k].holds())
		}
	}
	return sum / t.all.All
}

// share is the first-order index of the yes or no, from the classes: the variance between
// them less what chance alone puts there.
func (t *tallies) share() float64 {
	all := t.all
	p := all.Held / all.All
	if !(p > 0 && p < 1) {
		return math.NaN()
	}
	between := 0.0
	for _, c := range t.ofClass {
		rows := c.Kish()
		if !(c.All > 0 && rows > 1) {
			continue
		}
		q := c.Held / c.All
		between += float64(c.All / all.All * (float64((q-p)*(q-p)) - float64(q*(1-q)/(rows-1))))
	}
	noise := 0.0
	if rows := all.Kish(); rows > 1 {
		noise = 1 / (rows - 1)
	}
	return between/(p*(1-p)) + noise
}

// ratioAndError is the sum of what is gained over the weight of all rows, with its standard
// error over replicates.
func ratioAndError(gained []float64, of []tally) (ratio, se float64) {
	var sum, all float64
	for r, g := range gained {
		sum += g
		all += of[r].All
	}
	n := float64(len(gained))
	ratio = sum / all
	square := 0.0
	for r, g := range gained {
		d := (g - float64(ratio*of[r].All)) / (all / n)
		square += float64(d * d)
	}
	return ratio, math.Sqrt(square / (n * (n - 1)))
}
