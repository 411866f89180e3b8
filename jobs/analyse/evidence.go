package analyse

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/estimate"
)

// fewestEffective is the effective number of rows below which nothing can be told after what
// was measured.
const fewestEffective = 2

// hopeless is the error of a sample of which the facts leave next to no row. It unwraps to what
// is wrong in the study, at the facts.
type hopeless struct {
	text string
	at   study.Errors
}

func (e *hopeless) Error() string { return e.text }
func (e *hopeless) Unwrap() error {
	if len(e.at) == 0 { // no fact alone is to blame
		return nil
	}
	return e.at
}

// Before is an analyst of the same rows before what was measured.
func (a *Analyst) Before() *Analyst {
	return &Analyst{Plan: a.Plan, Workers: a.Workers, Context: a.Context, Tick: a.Tick, Budget: a.Budget,
		paths: a.paths, bounds: a.bounds, slices: a.slices, earlier: true}
}

// A measured sample is one whose rows have weights.
type measured struct {
	greatest float64 // logarithm of a likelihood, whose row has the weight 1: so none is lost however small all are
	rows     int
	health   estimate.Health
	moved    bool // the rows were moved to what was measured: each counts what its population does
}

// weigh looks at the weights of the rows after what was measured, once.
func (a *Analyst) weigh() error {
	if len(a.Plan.Facts) == 0 || a.earlier || a.measured != nil {
		return nil
	}
	m, err := a.likely()
	if err != nil {
		return err
	}
	if m.health.ESS < fewestEffective {
		return a.noneLeft(m.health.ESS, m.rows)
	}
	a.measured = m
	return nil
}

// likely are the weights of the sample's rows by the likelihood of what was measured.
func (a *Analyst) likely() (*measured, error) {
	m := &measured{greatest: math.Inf(-1)}
	return m, a.forEach(1, func(_ int, read reader, _ *estimate.Scratch) error {
		log, err := read(plan.LogLikelihoodColumn)
		if err != nil {
			return err
		}
		m.rows = log.Rows()
		if err := log.Each(0, m.rows, func(piece []float64) error {
			for _, l := range piece {
				if l > m.greatest {
					m.greatest = l
				}
			}
			return nil
		}); err != nil || math.IsInf(m.greatest, -1) {
			return err
		}
		m.health, err = estimate.WeightHealth(&likelihoods{Column: log, greatest: m.greatest})
		return err
	})
}

// weights are those of all rows, read by a reader.
func (m *measured) weights(read reader) (estimate.Column, error) {
	if m.moved {
		return read(weightColumn)
	}
	log, err := read(plan.LogLikelihoodColumn)
	return &likelihoods{Column: log, greatest: m.greatest}, err
}

// poor reports that the weights say neither percentiles nor intervals.
func (a *Analyst) poor() bool { return a.measured != nil && a.measured.health.Poor() }

// likelihoods are a column of logarithms as shares of the greatest; infeasible rows have none.
type likelihoods struct {
	estimate.Column
	greatest float64
	piece    []float64
}

func (l *likelihoods) Each(from, to int, f func(piece []float64) error) error {
	return l.Column.Each(from, to, func(piece []float64) error {
		l.piece = l.piece[:0]
		for _, log := range piece {
			w := 0.0
			if log == log {
				w = math.Exp(log - l.greatest)
			}
			l.piece = append(l.piece, w)
		}
		return f(l.piece)
	})
}

// noneLeft says where each fact lies among what the inputs make likely.
func (a *Analyst) noneLeft(ess float64, rows int) error {
	text := fmt.Sprintf("what was measured leaves no draw to tell anything by: of %d rows %.2g count", rows, ess)
	prior, err := a.percentiles(false)
	if err != nil {
		return err
	}
	help := "more rows would help (sample: rows), or the doubt that the instrument really has"
	blamed := func(p float64) bool { return true }
	if slices.ContainsFunc(prior, plan.Contradicts) {
		help = "the fact and the inputs contradict one another: one of them is wrong, or known less well than stated"
		blamed = plan.Contradicts
	}
	e := &hopeless{text: text}
	for i, f := range a.Plan.Facts {
		lies := fmt.Sprintf("%s (%s) lies above %s of what the inputs make likely", f.Of, f.Text, share(prior[i]))
		e.text += "; " + lies
		if blamed(prior[i]) {
			e.at = append(e.at, study.Error{Place: f.Place, Field: "measured", Found: lies + ": " + text,
				Allowed: help + "; mend the study, and run it with --replace or into another folder"})
		}
	}
	e.text += "; " + help
	return e
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
// of the chance of a lower one. after: of the rows after all other facts.
func (a *Analyst) percentiles(after bool) ([]float64, error) {
	at := make([]float64, len(a.Plan.Facts))
	err := a.forEach(len(at), func(i int, read reader, _ *estimate.Scratch) error {
		f := &a.Plan.Facts[i]
		x, err := a.expected(i, after, read)
		if err != nil {
			return err
		}
		greatest := 0.0
		if after {
			greatest = math.Inf(-1)
			if err := x.each(func(_, log []float64) {
				for _, l := range log {
					greatest = max(greatest, l)
				}
			}); err != nil {
				return err
			}
		}
		sum, all := 0.0, 0.0
		err = x.each(func(values, log []float64) {
			for k, v := range values {
				w := 1.0
				if after {
					w = math.Exp(log[k] - greatest)
				}
				if v == v && w > 0 {
					sum += float64(w * f.Below(f.Unit.ToSI(v)))
					all += w
				}
			}
		})
		at[i] = sum / all
		return err
	})
	return at, err
}

// An expectation is the column that a fact is a reading of, and those of all other facts where
// they count.
type expectation struct {
	columns []estimate.Column
	others  []*plan.Fact
}

func (a *Analyst) expected(fact int, after bool, read reader) (*expectation, error) {
	x, err := read(a.Plan.Facts[fact].Stored)
	e := &expectation{columns: []estimate.Column{x}}
	for k := range a.Plan.Facts {
		if !after || k == fact || err != nil {
			continue
		}
		f := &a.Plan.Facts[k]
		x, err = read(f.Stored)
		e.columns, e.others = append(e.columns, x), append(e.others, f)
	}
	return e, err
}

// each hands on the column, and the logarithms of the likelihood after the other facts.
func (e *expectation) each(f func(values, log []float64)) error {
	var log, si []float64
	return estimate.EachTogether(e.columns, 0, e.columns[0].Rows(), func(pieces [][]float64) error {
		log = append(log[:0], make([]float64, len(pieces[0]))...)
		for k, other := range e.others {
			si = si[:0]
			for _, v := range pieces[k+1] {
				si = append(si, other.Unit.ToSI(v))
			}
			other.AddLog(log, si)
		}
		f(pieces[0], log)
		return nil
	})
}

// Evidence makes the rows of evidence.parquet, one a fact, and what the manifest says.
func (a *Analyst) Evidence() ([]result.EvidenceRow, *result.Weights, error) {
	m, err := a.likely()
	if err != nil {
		return nil, nil, err
	}
	t := a.joined.tempering
	if !t.After() && m.health.ESS < fewestEffective {
		return nil, nil, a.noneLeft(m.health.ESS, m.rows)
	}
	prior, err := a.percentiles(false)
	if err != nil {
		return nil, nil, err
	}
	others, err := a.percentiles(true)
	if err != nil {
		return nil, nil, err
	}
	h := &m.health
	mean := m.greatest + math.Log(h.Mean)
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
	if t.After() {
		told, err := a.temperedEvidence(rows, h.ESS)
		return rows, told, err
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

// sayWeighted says of a claim's row that it is of weighted rows.
func (a *Analyst) sayWeighted(row *result.ClaimRow) {
	switch {
	case a.measured == nil:
	case a.poor():
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
