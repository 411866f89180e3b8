package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/estimate"
)

// read is a claim in one of its readings: the stored column of whether it holds, and in which
// draws that is so.
type read struct {
	column, of, text string
	held             []bool
}

// Readings makes the rows of readings.parquet: each combination of what the claims could mean,
// with each claim's chance and that of all of them. None where no claim has another reading.
func (a *Analyst) Readings() ([]result.ReadingRow, error) {
	var claims []plan.Claim
	var all [][]read // by claim, the first reading as stated
	several := false
	for _, c := range a.Plan.Claims {
		if c.Name == study.AllClaims {
			continue
		}
		claims = append(claims, c)
		readings := []read{{column: c.Name, of: c.Of, text: c.Text}}
		for i, r := range c.Readings {
			readings = append(readings, read{column: study.ReadingColumn(c.Name, i+1), of: r.Of, text: r.Text})
		}
		all, several = append(all, readings), several || len(c.Readings) > 0
	}
	if !several {
		return nil, nil
	}
	if err := a.weigh(); err != nil {
		return nil, err
	}
	if err := a.readHeld(all); err != nil {
		return nil, err
	}
	weight, err := a.heldWeights()
	if err != nil {
		return nil, err
	}
	var rows []result.ReadingRow
	chosen := make([]int, len(all)) // the reading of each claim
	for combination := 0; ; combination++ {
		if err := a.addCombination(&rows, combination, claims, all, chosen, weight); err != nil {
			return nil, err
		}
		if !next(chosen, all) {
			return rows, nil
		}
	}
}

// next goes on to the next combination, the last claim's readings fastest.
func next(chosen []int, all [][]read) bool {
	for k := len(chosen) - 1; k >= 0; k-- {
		if chosen[k]++; chosen[k] < len(all[k]) {
			return true
		}
		chosen[k] = 0
	}
	return false
}

// readHeld notes for every reading in which draws it holds.
func (a *Analyst) readHeld(all [][]read) error {
	var flat []*read
	for k := range all {
		for i := range all[k] {
			flat = append(flat, &all[k][i])
		}
	}
	return a.forEach(len(flat), func(i int, column reader, _ *estimate.Scratch) error {
		holds, err := column(flat[i].column)
		if err != nil {
			return err
		}
		return holds.Each(0, holds.Rows(), func(piece []float64) error {
			for _, v := range piece {
				flat[i].held = append(flat[i].held, v == 1)
			}
			return nil
		})
	})
}

// addCombination adds the rows of one combination.
func (a *Analyst) addCombination(rows *[]result.ReadingRow, number int, claims []plan.Claim, all [][]read, chosen []int, weight []float64) error {
	add := func(row result.ReadingRow, holds func(i int) bool) error {
		counts := make([]estimate.Count, len(a.bounds)-1)
		for r := range counts {
			for i := a.bounds[r]; i < a.bounds[r+1]; i++ {
				counts[r].Rows++
				if holds(i) {
					counts[r].Held++
				}
			}
		}
		p, err := estimate.Chance(counts, a.design().Independent, a.options())
		if err == nil && weight != nil {
			held, rows := p.Held, p.Rows
			p, err = a.weightedChance(weight, holds)
			p.Held, p.Rows = held, rows
		}
		row.Combination, row.Chance, row.Low, row.High = int64(number), p.Chance, p.Interval.Low, p.Interval.High
		row.Method, row.Held, row.Rows = p.Method, int64(p.Held), int64(p.Rows)
		*rows = append(*rows, row)
		return err
	}
	text := ""
	for k, c := range claims {
		r := &all[k][chosen[k]]
		if err := add(result.ReadingRow{Claim: c.Name, Of: r.of, Text: r.text}, func(i int) bool { return r.held[i] }); err != nil {
			return err
		}
		if text != "" {
			text += "; "
		}
		text += r.text
	}
	return add(result.ReadingRow{Text: text}, func(i int) bool {
		for k := range all {
			if !all[k][chosen[k]].held[i] {
				return false
			}
		}
		return true
	})
}

// heldWeights are those of all rows after what was measured, nil where nothing was.
func (a *Analyst) heldWeights() (weight []float64, err error) {
	if a.measured == nil {
		return nil, nil
	}
	err = a.forEach(1, func(_ int, read reader, _ *estimate.Scratch) error {
		x, err := a.measured.weights(read)
		if err != nil {
			return err
		}
		return x.Each(0, x.Rows(), func(piece []float64) error {
			weight = append(weight, piece...)
			return nil
		})
	})
	return weight, err
}

// weightedChance is the chance of what holds in some rows that count differently.
func (a *Analyst) weightedChance(weight []float64, holds func(i int) bool) (estimate.Proportion, error) {
	bounds, err := a.design().Blocks(len(weight))
	if err != nil {
		return estimate.Proportion{}, err
	}
	of := make([]estimate.Weighing, len(bounds)-1)
	for r := range of {
		for i := bounds[r]; i < bounds[r+1]; i++ {
			of[r].Add(weight[i], holds(i))
		}
	}
	p, err := estimate.WeightedChance(of, a.options())
	switch {
	case a.poor():
		p.Interval, p.Method = estimate.None(), estimate.MethodNone
	case p.Method != estimate.MethodNone:
		p.Method = string(result.WeightedChance)
	}
	return p, err
}
