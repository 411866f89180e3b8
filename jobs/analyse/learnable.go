package analyse

import (
	"cmp"
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model/vehicle"
	"proofmass/sampling/design"
	"proofmass/sampling/portable"
)

// A learnable is what could be measured, as samples store it.
type learnable struct {
	name, stored string
	unit         string
	sd           float64 // of the gauge's own error, in the unit; 0: learnt exactly
	price        float64 // NaN where the study does not say
	known        []bool  // of a target: it can tell of it
}

// exact are the uncertain inputs, each learnt exactly.
func (g *GivenData) exact(claims []int) (items []learnable) {
	for i, in := range g.inputs {
		if _, factor := plan.Split(g.Plan.Factors[in.Factor].Name); factor == vehicle.ErrorFactor {
			continue // nothing but measuring the car tells of it
		}
		l := learnable{name: in.Name, stored: in.Stored, unit: g.column(in.Name).Quantity.Unit.String(), price: math.NaN(), known: make([]bool, len(g.found[i]))}
		if c := g.column(in.Name); c.Input != nil && c.Input.Price > 0 {
			l.price = c.Input.Price
		}
		for _, t := range claims {
			l.known[t] = g.found[i][t] != nil
		}
		items = append(items, l)
	}
	return items
}

// gauges are the measurements that the study says could be made. After what was measured any
// of them may tell of any claim: a fact ties what nothing else ties.
func (g *GivenData) gauges(claims []int) (items []learnable) {
	for i := range g.Plan.Study.Gauges {
		gauge := &g.Plan.Study.Gauges[i]
		c := g.column(gauge.Of)
		l := learnable{name: gauge.Of, stored: c.Stored(), unit: c.Quantity.Unit.OfDifferences().String(), sd: c.Quantity.Unit.DeltaFromSI(gauge.SD),
			price: math.NaN(), known: make([]bool, len(g.Plan.Index.Targets))}
		if gauge.Price > 0 {
			l.price = gauge.Price
		}
		for _, t := range claims {
			l.known[t] = g.measured != nil || g.Plan.ReachedTogether(c.Output, g.Plan.Index.Targets[t].Output)
		}
		items = append(items, l)
	}
	return items
}

// addErrors adds to each row that is kept an error of its own, normal with that standard
// deviation: number of the row in the sample of the key's stream.
func (t subsample) addErrors(x []float64, sd float64, key design.Key) {
	bounds := t.design.Bounds
	for r := range len(bounds) - 1 {
		for i := bounds[r]; i < bounds[r+1]; i++ {
			x[i] += float64(sd * portable.NormalQuantile(key.Unit(uint64(t.from[r]+i-bounds[r]))))
		}
	}
}

// priced says what a measurement costs, and what it gains for that.
func (m *measuring) priced(r *result.MeasureRow, price float64) {
	r.Price, r.GainPerPrice = price, r.Gain/price
	if price == price {
		r.PriceUnit = m.Plan.Study.Currency
	}
}

// rank sorts rows of one claim and method by what they surely gain, and numbers them; those
// with a price also by what they gain for the money.
func rank(rows []result.MeasureRow) {
	slices.SortStableFunc(rows, func(a, b result.MeasureRow) int {
		return cmp.Or(cmp.Compare(b.GainLow, a.GainLow), cmp.Compare(b.Gain, a.Gain), cmp.Compare(b.Share, a.Share))
	})
	var priced []*result.MeasureRow
	for i := range rows {
		rows[i].Rank = int64(i + 1)
		if r := &rows[i]; r.Price == r.Price && r.Gain == r.Gain {
			priced = append(priced, r)
		}
	}
	slices.SortStableFunc(priced, func(a, b *result.MeasureRow) int {
		return cmp.Or(cmp.Compare(b.GainLow/b.Price, a.GainLow/a.Price), cmp.Compare(b.GainPerPrice, a.GainPerPrice))
	})
	for i, r := range priced {
		r.RankForMoney = int64(i + 1)
	}
}
