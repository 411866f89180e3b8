package analyse

import (
	"errors"
	"math"

	"proofmass/jobs/plan"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// halfWidths are the largest that the sample has so far: of the claims' chances, and
// of p05, p50 and p95 of the asked outputs as a share of p95 - p05. NaN means that
// one of them has no interval yet. What is infeasible in every row counts for
// nothing: more rows would tell no more of it.
func (a *Analyst) halfWidths() (chance, percentiles float64, err error) {
	if err := a.weigh(); errors.As(err, new(*hopeless)) {
		return math.NaN(), math.NaN(), nil // more rows may do
	} else if err != nil {
		return 0, 0, err
	}
	claims, outputs := a.Plan.Claims, a.Plan.Index.Outputs
	half := make([]float64, len(claims)+len(outputs))
	err = a.forEach(len(half), func(i int, read reader, scratch *estimate.Scratch) error {
		if i < len(claims) {
			x, err := read(claims[i].Name)
			if err != nil {
				return err
			}
			design, err := a.weighted(read)
			if err != nil {
				return err
			}
			v, err := claim.ChanceOf(x, nil, design, a.options(), scratch)
			half[i] = halfWidth(v.Interval)
			return err
		}
		c := a.column(a.name(outputs[i-len(claims)]))
		x, err := read(c.Stored())
		if err != nil {
			return err
		}
		design, err := a.weighted(read)
		if err != nil {
			return err
		}
		s, err := estimate.DescribeColumn(x, design, a.options(), scratch)
		half[i] = ofSpread(&s)
		return err
	})
	return widestOf(half[:len(claims)]), widestOf(half[len(claims):]), err
}

func halfWidth(i estimate.Interval) float64 { return (i.High - i.Low) / 2 }

// ofSpread is the largest half-width of the three percentiles over p95 - p05.
func ofSpread(s *estimate.Summary) float64 {
	if s.Infeasible == s.Rows {
		return 0
	}
	widest := widestOf([]float64{halfWidth(s.P05Interval), halfWidth(s.P50Interval), halfWidth(s.P95Interval)})
	if widest == 0 {
		return 0 // all but a few draws are one value
	}
	return widest / (s.P95 - s.P05)
}

// widestOf is the largest, NaN if one of them is.
func widestOf(half []float64) float64 {
	widest := 0.0
	for _, h := range half {
		widest = math.Max(widest, h)
	}
	return widest
}

// add joins a round to the sample: its files, in order.
func (a *Analyst) add(round plan.Round, path func(plan.Slice) string) {
	if a.Plan.Choosing != nil {
		a.addChoices(round, path)
		return
	}
	if len(a.bounds) == 0 {
		a.bounds = []int{0}
	}
	for _, b := range round.Bounds()[1:] {
		a.bounds = append(a.bounds, round.FirstRow+b)
	}
	for _, s := range round.Slices {
		a.paths, a.slices, a.measured = append(a.paths, path(s)), nil, nil
	}
}
