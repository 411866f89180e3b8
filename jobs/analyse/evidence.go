package analyse

import (
	"errors"
	"fmt"
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
)

// fewestEffective is the effective number of rows below which nothing can be told after what
// was measured.
const fewestEffective = 2

// hopeless is the error of a sample of which the facts leave next to no row.
type hopeless struct{ text string }

func (e *hopeless) Error() string { return e.text }

// Before is an analyst of the same rows before what was measured.
func (a *Analyst) Before() *Analyst {
	return &Analyst{Plan: a.Plan, Workers: a.Workers, Context: a.Context, Tick: a.Tick, Budget: a.Budget,
		paths: a.paths, bounds: a.bounds, slices: a.slices, earlier: true}
}

// weigh reads the weight of each row after what was measured, once.
func (a *Analyst) weigh() error {
	if len(a.Plan.Facts) == 0 || a.earlier || a.weight != nil {
		return nil
	}
	log, err := a.logLikelihood()
	if err != nil {
		return err
	}
	weight, _ := fromLog(log)
	health := estimate.WeightHealth(weight)
	if health.ESS < fewestEffective {
		return a.noneLeft(health.ESS, len(weight))
	}
	a.weight, a.health = weight, health
	return nil
}

// logLikelihood is that of every row, -Inf where it is nil.
func (a *Analyst) logLikelihood() (log []float64, err error) {
	err = a.forEach(1, func(_ int, read reader, _ *estimate.Scratch) error {
		x, err := read(plan.LogLikelihoodColumn)
		if err != nil {
			return err
		}
		return x.Each(0, x.Rows(), func(piece []float64) error {
			for _, v := range piece {
				if v != v {
					v = math.Inf(-1)
				}
				log = append(log, v)
			}
			return nil
		})
	})
	return log, err
}

// fromLog makes weights of logarithms, the greatest 1, so that none is lost however small all
// are; and the logarithm of their mean, -Inf where all are nil.
func fromLog(log []float64) (weight []float64, mean float64) {
	greatest := math.Inf(-1)
	for _, l := range log {
		greatest = max(greatest, l)
	}
	weight = make([]float64, len(log))
	if math.IsInf(greatest, -1) {
		return weight, greatest
	}
	sum := 0.0
	for i, l := range log {
		weight[i] = math.Exp(l - greatest)
		sum += weight[i]
	}
	return weight, greatest + math.Log(sum/float64(len(log)))
}

// noneLeft says where each fact lies among what the inputs make likely.
func (a *Analyst) noneLeft(ess float64, rows int) error {
	text := fmt.Sprintf("what was measured leaves no draw to tell anything by: of %d rows %.2g count", rows, ess)
	prior, err := a.percentiles(nil)
	if err != nil {
		return err
	}
	for i, f := range a.Plan.Facts {
		text += fmt.Sprintf("; %s (%s) lies above %s of what the inputs make likely", f.Of, f.Text, share(prior[i]))
	}
	help := "; what would help: more rows (sample: rows), or a fact with the doubt that its instrument really has"
	for _, p := range prior {
		if plan.Contradicts(p) {
			help = "; a fact and the inputs contradict one another: one of them is wrong, or known less well than stated"
		}
	}
	return &hopeless{text + help}
}

// share is a share for a message, never rounded to none or all.
func share(p float64) string {
	switch {
	case p != p:
		return "none"
	case p < 0.001:
		return "less than 1 in 1000"
	case p > 0.999:
		return "more than 999 in 1000"
	}
	return fmt.Sprintf("%.3g in 1000", 1000*p)
}

// percentiles are where each fact lies among the readings to be expected of the rows: the mean
// of the chance of a lower one. weights are those of the rows for each fact; nil: all alike.
func (a *Analyst) percentiles(weights [][]float64) ([]float64, error) {
	at := make([]float64, len(a.Plan.Facts))
	err := a.forEach(len(at), func(i int, read reader, _ *estimate.Scratch) error {
		f := &a.Plan.Facts[i]
		x, err := read(f.Stored)
		if err != nil {
			return err
		}
		row, sum, all := 0, 0.0, 0.0
		err = x.Each(0, x.Rows(), func(piece []float64) error {
			for _, v := range piece {
				w := 1.0
				if weights != nil {
					w = weights[i][row]
				}
				row++
				if v == v && w > 0 {
					sum += float64(w * f.Below(f.Unit.ToSI(v)))
					all += w
				}
			}
			return nil
		})
		at[i] = sum / all
		return err
	})
	return at, err
}

// others are the weights of the rows for each fact after all other ones.
func (a *Analyst) others() ([][]float64, error) {
	weights := make([][]float64, len(a.Plan.Facts))
	err := a.forEach(len(weights), func(i int, read reader, _ *estimate.Scratch) error {
		log := make([]float64, len(a.weight))
		var si []float64
		for k := range a.Plan.Facts {
			if k == i {
				continue
			}
			f := &a.Plan.Facts[k]
			x, err := read(f.Stored)
			if err != nil {
				return err
			}
			row := 0
			if err := x.Each(0, x.Rows(), func(piece []float64) error {
				si = si[:0]
				for _, v := range piece {
					si = append(si, f.Unit.ToSI(v))
				}
				f.AddLog(log[row:row+len(si)], si)
				row += len(si)
				return nil
			}); err != nil {
				return err
			}
		}
		weights[i], _ = fromLog(log)
		return nil
	})
	return weights, err
}

// Evidence makes the rows of evidence.parquet, one a fact, and what the manifest says.
func (a *Analyst) Evidence() ([]result.EvidenceRow, *result.Weights, error) {
	if err := a.weigh(); err != nil {
		return nil, nil, err
	}
	log, err := a.logLikelihood()
	if err != nil {
		return nil, nil, err
	}
	_, mean := fromLog(log)
	prior, err := a.percentiles(nil)
	if err != nil {
		return nil, nil, err
	}
	weights, err := a.others()
	if err != nil {
		return nil, nil, err
	}
	others, err := a.percentiles(weights)
	if err != nil {
		return nil, nil, err
	}
	h := &a.health
	rows := make([]result.EvidenceRow, len(a.Plan.Facts))
	odd, furthest := -1, 0.0
	for i := range a.Plan.Facts {
		f := &a.Plan.Facts[i]
		rows[i] = result.EvidenceRow{Fact: int64(i), Of: f.Of, Text: f.Text, Value: f.Unit.FromSI(f.Value()), SD: f.Unit.DeltaFromSI(f.SD()), Unit: f.Unit.String(),
			PriorPercentile: prior[i], OthersPercentile: others[i], ESS: h.ESS, LargestShare: h.LargestShare, ParetoK: h.ParetoK, ParetoLimit: h.Limit,
			LogEvidence: mean, Method: result.ByWeights, Source: f.Free.Source, HowKnown: f.Free.HowKnown}
		if plan.Contradicts(prior[i]) || plan.Contradicts(others[i]) {
			rows[i].Contradicts = 1
		}
		if out := math.Abs(others[i] - 0.5); rows[i].Contradicts == 1 && (odd < 0 || out > furthest) {
			odd, furthest = i, out
		}
	}
	if odd >= 0 {
		rows[odd].Odd = 1
	}
	told := &result.Weights{Facts: len(rows), ESS: h.ESS, LargestShare: h.LargestShare, ParetoLimit: h.Limit, LogEvidence: mean, Method: result.ByWeights}
	if k := h.ParetoK; k == k {
		told.ParetoK = &k
	}
	return rows, told, nil
}

// Hopeless reports whether nothing can be told after what was measured.
func Hopeless(err error) bool { return errors.As(err, new(*hopeless)) }

// withhold takes from a summary what weights of a heavy tail can not tell: percentiles and
// intervals.
func withhold(s *estimate.Summary) {
	if s.SD == 0 {
		return // a constant is known
	}
	nan := math.NaN()
	for _, p := range [...]*float64{&s.P01, &s.P05, &s.P10, &s.P25, &s.P50, &s.P75, &s.P90, &s.P95, &s.P99, &s.CoverLow, &s.CoverHigh, &s.ShortestLow, &s.ShortestHigh} {
		*p = nan
	}
	for _, i := range [...]*estimate.Interval{&s.MeanInterval, &s.SDInterval, &s.P05Interval, &s.P50Interval, &s.P95Interval} {
		*i = estimate.None()
	}
	s.Method = estimate.MethodNone
}

// weighted says of a claim's row that it is of weighted rows.
func (a *Analyst) weighted(row *result.ClaimRow) {
	switch {
	case a.weight == nil:
	case a.health.Poor():
		nan := math.NaN()
		row.Method, row.ChanceLow, row.ChanceHigh = "none", nan, nan
		row.MarginP05, row.MarginP50, row.MarginP95 = nan, nan, nan
	case row.Method != result.ChanceMethod(estimate.MethodNone):
		row.Method = result.WeightedChance
	}
}

// taken says of a figure by a method whether it is of the rows after what was measured: those
// of rounds of their own, which exchange or move one input and leave the others, are not.
func (a *Analyst) taken(m result.Method) result.Taken {
	switch {
	case len(a.Plan.Facts) == 0:
		return ""
	case m == result.Classes || m == result.LeastSquares:
		return result.AfterFacts
	}
	return result.BeforeFacts
}

// firstWeights are those of the first rows of the sample, nil where all count alike.
func (a *Analyst) firstWeights(rows int) []float64 {
	if a.weight == nil {
		return nil
	}
	return a.weight[:rows]
}
