package sensitivity

import (
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// A histogram holds the buffers of Distance: weights in bins of the output.
type histogram struct {
	bounds    [fineBins]float64 // upper ends of the bins of y
	sample    []estimate.Place  // and its memory to sort
	spare     []estimate.Place
	blocks    int
	fine      table
	coarse    table     // the same in fewer bins
	half      table     // either in half as many groups and bins
	sets      []float64 // of a fold, a group and a bin
	all, rest []float64 // of a group and a bin
	weight    float64   // of all rows
	square    float64   // of their weights
}

// A table is the weight in each block, group and bin.
type table struct {
	weights      []float64
	groups, bins int
}

func (t table) size() int { return t.groups * t.bins }

// empty returns a table of zeros in the memory of t.
func (t table) empty(blocks, groups, bins int) table {
	return table{zeroed(t.weights, blocks*groups*bins), groups, bins}
}

// joined returns, in the memory of to, the table with neighbouring groups and bins
// joined.
func (t table) joined(blocks, groups, bins int, to table) table {
	to = to.empty(blocks, (t.groups+groups-1)/groups, t.bins/bins)
	from := t.weights
	for block := range blocks {
		for g := range t.groups {
			row := to.weights[block*to.size()+g/groups*to.bins:][:to.bins]
			for k := range row {
				for _, w := range from[k*bins : (k+1)*bins] {
					row[k] += w
				}
			}
			from = from[t.bins:]
		}
	}
	return to
}

// mostSampled bounds the rows that the bounds of the bins are read from.
const mostSampled = 1 << 14

// bound sets the bins from every k-th row. They need not be exactly equal.
func (c *Classes) bound(y []float64) {
	k := &c.bins
	k.sample = k.sample[:0]
	step := 1 + (len(y)-1)/mostSampled
	var total float64
	for row := 0; row < len(y); row += step {
		if v := y[row]; v-v == 0 && c.class[row] != leftOut {
			k.sample = append(k.sample, estimate.Place{X: v, Row: int32(row)})
			total += weightOf(c.weight, int32(row))
		}
	}
	k.spare = slices.Grow(k.spare[:0], len(k.sample))[:len(k.sample)]
	sample := estimate.SortPlaces(k.sample, k.spare)
	var below float64
	bin := 0
	for _, p := range sample {
		below += weightOf(c.weight, p.Row)
		for bin < fineBins-1 && below >= total*float64(bin+1)/fineBins {
			k.bounds[bin] = p.X
			bin++
		}
	}
	for ; bin < fineBins; bin++ {
		k.bounds[bin] = math.Inf(1)
	}
}

// binOf is the first bin whose upper end is not below v.
func (k *histogram) binOf(v float64) int {
	at := 0
	for step := fineBins / 2; step > 0; step /= 2 {
		if v > k.bounds[at+step-1] {
			at += step
		}
	}
	return at
}

// count fills the tables and returns the number of rows in them.
func (c *Classes) count(y []float64) (rows int) {
	c.bound(y)
	k := &c.bins
	k.blocks, k.weight, k.square = c.blocks, 0, 0
	k.fine = k.fine.empty(c.blocks, c.coarse.n, fineBins)
	size := k.fine.size()
	for r := range len(c.bounds) - 1 {
		table := k.fine.weights[r%k.blocks*size:][:size]
		for row := c.bounds[r]; row < c.bounds[r+1]; row++ {
			class, v := c.class[row], y[row]
			if class == leftOut || v-v != 0 {
				continue
			}
			w := weightOf(c.weight, int32(row))
			table[int(c.coarse.of[class])*fineBins+k.binOf(v)] += w
			rows++
			k.weight += w
			k.square += float64(w * w)
		}
	}
	k.coarse = k.fine.joined(k.blocks, 1, fineBins/deltaBins, k.coarse)
	return rows
}

// occupied counts the groups with weight.
func (k *histogram) occupied() int {
	k.collect(k.coarse, -1)
	count := 0
	for g := range k.coarse.groups {
		if total(k.all[g*k.coarse.bins:][:k.coarse.bins]) > 0 {
			count++
		}
	}
	return count
}

// zeroed is a buffer of n zeros, v if it is large enough.
func zeroed(v []float64, n int) []float64 {
	v = slices.Grow(v[:0], n)[:n]
	clear(v)
	return v
}

// floor is the mean over the groups of the Kolmogorov-Smirnov statistic of rows drawn
// from all, sqrt(pi/2) ln 2 / sqrt(n).
func (k *histogram) floor() float64 {
	t := k.coarse
	k.collect(t, -1)
	var sum float64
	for g := range t.groups {
		if share := total(k.all[g*t.bins:][:t.bins]) / k.weight; share > 0 {
			sum += share * math.Sqrt(max(0, 1/share-1)*k.square) / k.weight
		}
	}
	return math.Sqrt(math.Pi/2) * math.Ln2 * sum
}

func total(v []float64) float64 {
	var sum float64
	for _, w := range v {
		sum += w
	}
	return sum
}

func (k *histogram) setCount() int { return min(folds, k.blocks) }

// collect sums the blocks into sets and all, but for one set; none is left out with -1.
func (k *histogram) collect(t table, without int) (sets int) {
	sets = k.setCount()
	size := t.size()
	k.sets, k.all, k.rest = zeroed(k.sets, sets*size), zeroed(k.all, size), zeroed(k.rest, size)
	for r := range k.blocks {
		if r%sets == without {
			continue
		}
		set, block := k.sets[r%sets*size:][:size], t.weights[r*size:][:size]
		for i, w := range block {
			set[i] += w
			k.all[i] += w
		}
	}
	return sets
}

// gaps returns the mean distances over the groups without one set, or of all with -1.
// Sums and differences of equal weights are exact, and so an empty group is.
func (k *histogram) gaps(t table, without int) (ks, delta gap) {
	sets := k.collect(t, without)
	size, binCount := t.size(), t.bins
	var whole, own, rest [fineBins]float64
	all := marginal(k.all, whole[:binCount])
	for g := 0; g < size; g += binCount {
		d, a, w := plainGap(k.all[g:g+binCount], whole[:binCount])
		ks.plain += w / all * d
		delta.plain += w / all * a
	}
	var seen float64
	for s := range sets {
		set := k.sets[s*size:][:size]
		for i, w := range set {
			k.rest[i] = k.all[i] - w
		}
		marginal(set, own[:binCount])
		marginal(k.rest, rest[:binCount])
		for g := 0; g < size; g += binCount {
			d, a, w := crossedGap(k.rest[g:g+binCount], set[g:g+binCount], rest[:binCount], own[:binCount])
			ks.crossed += w * d
			delta.crossed += w * a
			seen += w
		}
	}
	ks.crossed /= seen
	delta.crossed /= seen
	return ks, delta
}

// marginal fills the share of each bin over all groups and returns the weight.
func marginal(table, shares []float64) float64 {
	clear(shares)
	for g := 0; g < len(table); g += len(shares) {
		for i, w := range table[g : g+len(shares)] {
			shares[i] += w
		}
	}
	weight := total(shares)
	for i := range shares {
		shares[i] /= weight
	}
	return weight
}

// plainGap returns the Kolmogorov-Smirnov distance of a group's bins from the shares
// of all rows, half the sum of the absolute gaps of the bins, and the group's weight.
func plainGap(group, whole []float64) (ks, area, weight float64) {
	weight = total(group)
	if weight == 0 {
		return 0, 0, 0
	}
	var sum float64
	for i, w := range group {
		d := w/weight - whole[i]
		sum += d
		ks = max(ks, math.Abs(sum))
		area += math.Abs(d) / 2
	}
	return ks, area, weight
}

// crossedGap returns the gaps of own at the place and with the signs of those of rest,
// each of a group against the shares of its whole, and the weight of own.
func crossedGap(rest, own, wholeRest, wholeOwn []float64) (ks, area, weight float64) {
	weight = total(own)
	restWeight := total(rest)
	if !(weight > 0 && restWeight > 0) {
		return 0, 0, 0
	}
	var sum, ownSum, greatest float64
	perRest, perOwn := 1/restWeight, 1/weight
	own, wholeRest, wholeOwn = own[:len(rest)], wholeRest[:len(rest)], wholeOwn[:len(rest)]
	for i, w := range rest {
		d, o := float64(w*perRest)-wholeRest[i], float64(own[i]*perOwn)-wholeOwn[i]
		sum += d
		ownSum += o
		if a := math.Abs(sum); a > greatest {
			greatest = a
			ks = ownSum
			if sum < 0 {
				ks = -ownSum
			}
		}
		area += o * math.Copysign(0.5, d) // no branch: the sign is that of noise
	}
	return ks, area, weight
}
