package analyse

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/model/unit"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// An Account is what one of rival accounts gives: columns of the Told, in their order, for the
// same points of the design as every other.
type Account struct {
	Name, Source    string
	Weight          float64 // before what was measured
	Plan            *plan.Plan
	Rows            *run.First
	Halved, Doubled float64 // logarithm of the evidence with other widths; NaN where it is not known
}

// Told is what is told of every account: the stored columns of the first one's plan that are
// outputs, then for each claim whether it holds and by how much.
type Told struct {
	Outputs []plan.Column
	Claims  []plan.Claim
}

// Wanted are the columns of a told account among the outputs of a plan.
func (t *Told) Wanted(p *plan.Plan) []run.Wanted {
	var wanted []run.Wanted
	for _, o := range t.Outputs {
		w := run.Wanted{Output: -1}
		for i := range p.Columns {
			if c := &p.Columns[i]; c.Name == o.Name {
				w = run.Wanted{Output: c.Output, Unit: o.Quantity.Unit}
			}
		}
		wanted = append(wanted, w)
	}
	for i := range t.Claims {
		c := &p.Claims[i]
		wanted = append(wanted, run.Wanted{Output: c.Holds, Unit: unit.SI(unit.One)}, run.Wanted{Output: c.Margin, Unit: c.Unit})
	}
	return wanted
}

// Accounts makes the tables of rival accounts: each alone, and all of them mixed, where a draw
// of each counts by the weight of its account and its own likelihood.
func (a *Analyst) Accounts(told *Told, accounts []Account) ([]result.AccountRow, []result.AccountClaimRow, []result.AccountOutputRow, error) {
	m := &mixing{Analyst: a, told: told, accounts: accounts}
	rows, err := m.weights()
	if err != nil {
		return nil, nil, nil, err
	}
	var claims []result.AccountClaimRow
	var outputs []result.AccountOutputRow
	for k := -1; k < len(accounts); k++ { // all of them mixed first
		if err := m.tell(k, &claims, &outputs); err != nil {
			return nil, nil, nil, err
		}
	}
	return rows, claims, outputs, nil
}

type mixing struct {
	*Analyst
	told     *Told
	accounts []Account
	weight   [][]float64 // of each account's rows: its own times their likelihood, over one factor
}

// weights are those of the accounts before and after what was measured.
func (m *mixing) weights() ([]result.AccountRow, error) {
	greatest := math.Inf(-1)
	for i := range m.accounts {
		for _, l := range m.accounts[i].Rows.Log {
			greatest = max(greatest, l)
		}
	}
	blocks, err := m.rowsOf(m.accounts[0].Rows.Bounds, nil).Blocks(len(m.rows(0)))
	if err != nil {
		return nil, err
	}
	sums := make([][]float64, len(m.accounts))
	table := make([]result.AccountRow, len(m.accounts))
	for i := range m.accounts {
		x := &m.accounts[i]
		weight := make([]float64, len(m.rows(i)))
		var all estimate.Weighing
		for r := range weight {
			weight[r] = x.Weight
			if x.Rows.Log != nil {
				weight[r] *= math.Exp(x.Rows.Log[r] - greatest)
			}
			all.Add(weight[r], false)
		}
		for b := range len(blocks) - 1 {
			of := 0.0
			for _, w := range weight[blocks[b]:blocks[b+1]] {
				of += w
			}
			sums[i] = append(sums[i], of)
		}
		m.weight = append(m.weight, weight)
		table[i] = result.AccountRow{Account: x.Name, Before: x.Weight, After: x.Weight, Low: x.Weight, High: x.Weight, Halved: math.NaN(), Doubled: math.NaN(),
			ESS: all.Kish(), Rows: int64(len(weight)), LogEvidence: math.NaN(), Source: x.Source}
		if all.All == 0 {
			table[i].ESS = 0
		}
		if x.Rows.Log != nil {
			_, table[i].LogEvidence = x.Rows.Weights()
		}
	}
	if math.IsInf(greatest, -1) && m.accounts[0].Rows.Log != nil {
		return nil, &hopeless{text: "what was measured leaves no draw of any account to tell anything by: the facts, or all accounts, are wrong"}
	}
	if m.accounts[0].Rows.Log == nil {
		return table, nil
	}
	shares, err := estimate.Shares(sums, m.Plan.Study.Level)
	if err != nil {
		return nil, err
	}
	halved, doubled := m.after(func(x *Account) float64 { return x.Halved }), m.after(func(x *Account) float64 { return x.Doubled })
	for i, s := range shares {
		r := &table[i]
		r.After, r.Low, r.High, r.Halved, r.Doubled = s.Value, s.Low, s.High, halved[i], doubled[i]
		if s.Value == 0 { // below what a single row of the greatest likelihood would give
			one := r.Before / float64(len(m.weight[i]))
			r.Low, r.High = 0, one/(one+totalOf(sums))
		}
	}
	return table, nil
}

func totalOf(sums [][]float64) float64 {
	all := 0.0
	for _, of := range sums {
		for _, x := range of {
			all += x
		}
	}
	return all
}

// after are the weights that logarithms of evidence make of those before.
func (m *mixing) after(evidence func(*Account) float64) []float64 {
	greatest, sum := math.Inf(-1), 0.0
	for i := range m.accounts {
		greatest = max(greatest, evidence(&m.accounts[i])) // NaN stays
	}
	all := make([]float64, len(m.accounts))
	for i := range m.accounts {
		all[i] = m.accounts[i].Weight * math.Exp(evidence(&m.accounts[i])-greatest)
		sum += all[i]
	}
	for i := range all {
		all[i] /= sum
	}
	return all
}

func (m *mixing) rows(account int) []float64 {
	return m.accounts[account].Rows.Columns[0]
}

func (m *mixing) rowsOf(bounds []int, weight []float64) estimate.Rows {
	return estimate.Rows{Bounds: bounds, Independent: m.Plan.Study.Design == "random", Weight: weight}
}

// one are a column and the rows of an account, or of all of them mixed: there row by row, so
// that a replicate, and any part of independent rows, has the same points of each.
func (m *mixing) one(account, column int) estimate.Values {
	if account >= 0 {
		return m.accounts[account].Rows.Columns[column]
	}
	return m.interleaved(func(i int) []float64 { return m.accounts[i].Rows.Columns[column] })
}

func (m *mixing) interleaved(of func(account int) []float64) []float64 {
	n := len(m.accounts)
	mixed := make([]float64, n*len(m.rows(0)))
	for i := range m.accounts {
		for r, x := range of(i) {
			mixed[r*n+i] = x
		}
	}
	return mixed
}

func (m *mixing) design(account int) (estimate.Rows, estimate.Health, error) {
	bounds, measured := m.accounts[0].Rows.Bounds, m.accounts[0].Rows.Log != nil
	if account >= 0 {
		if !measured {
			return m.rowsOf(bounds, nil), estimate.Health{}, nil
		}
		health, err := estimate.WeightHealth(estimate.Values(m.weight[account]))
		return m.rowsOf(bounds, m.weight[account]), health, err
	}
	wide := make([]int, len(bounds))
	for i, b := range bounds {
		wide[i] = b * len(m.accounts)
	}
	weight := m.interleaved(func(i int) []float64 { return m.weight[i] })
	if !measured {
		return m.rowsOf(wide, weight), estimate.Health{}, nil
	}
	health, err := estimate.WeightHealth(estimate.Values(weight))
	return m.rowsOf(wide, weight), health, err
}

// tell tells of one account, or of all of them mixed.
func (m *mixing) tell(account int, claims *[]result.AccountClaimRow, outputs *[]result.AccountOutputRow) error {
	name := ""
	if account >= 0 {
		name = m.accounts[account].Name
	}
	design, health, err := m.design(account)
	if err != nil {
		return err
	}
	measured := m.accounts[0].Rows.Log != nil
	none := measured && health.ESS == 0
	poor := measured && !none && (health.Poor() || health.ESS < fewestEffective)
	for c, o := range m.told.Outputs {
		s := estimate.Summary{}
		row := result.AccountOutputRow{Account: name, Output: o.Name, Unit: o.Quantity.Unit.String(), Rows: int64(design.Bounds[len(design.Bounds)-1])}
		if none {
			s.Mean, s.SD = math.NaN(), math.NaN()
			withhold(&s)
		} else {
			if s, err = estimate.DescribeColumn(m.one(account, c), design, m.options(), nil); err != nil {
				return err
			}
			if poor {
				withhold(&s)
			}
		}
		row.Infeasible, row.Mean, row.MeanLow, row.MeanHigh, row.SD = int64(s.Infeasible), s.Mean, s.MeanInterval.Low, s.MeanInterval.High, s.SD
		row.P05, row.P50, row.P95, row.Method = s.P05, s.P50, s.P95, result.IntervalMethod(s.Method)
		*outputs = append(*outputs, row)
	}
	for i, c := range m.told.Claims {
		row, err := m.claim(account, i, c, design, poor, none)
		if err != nil {
			return err
		}
		row.Account = name
		*claims = append(*claims, row)
	}
	return nil
}

// claim judges a claim by the rows of an account, as claims.parquet does.
func (m *mixing) claim(account, number int, c plan.Claim, design estimate.Rows, poor, none bool) (result.AccountClaimRow, error) {
	nan := math.NaN()
	row := result.AccountClaimRow{Claim: c.Name, Chance: nan, ChanceLow: nan, ChanceHigh: nan, Method: "none", MarginP05: nan, MarginP50: nan, MarginP95: nan,
		Rows: int64(design.Bounds[len(design.Bounds)-1]), Verdict: result.NotJudged}
	if c.Margin >= 0 {
		row.Unit = c.Unit.String()
	}
	if none {
		return row, nil
	}
	column := len(m.told.Outputs) + 2*number
	var margin estimate.Column
	if c.Margin >= 0 {
		margin = m.one(account, column+1)
	}
	v, err := claim.ChanceOf(m.one(account, column), margin, design, m.options(), nil)
	if err != nil {
		return row, err
	}
	full := result.ClaimRow{Chance: v.Chance, ChanceLow: v.Interval.Low, ChanceHigh: v.Interval.High, Method: result.ChanceMethod(v.Method), Held: int64(v.Held), Failed: int64(v.Failed),
		Infeasible: int64(v.Infeasible), Rows: int64(v.Rows), MarginP05: v.MarginP05, MarginP50: v.MarginP50, MarginP95: v.MarginP95}
	if poor {
		full.Method, full.ChanceLow, full.ChanceHigh, full.MarginP05, full.MarginP50, full.MarginP95 = "none", nan, nan, nan, nan, nan
	} else if design.Weight != nil && full.Method != "none" {
		full.Method = result.WeightedChance
	}
	row.Chance, row.ChanceLow, row.ChanceHigh, row.Method, row.EffectiveRows = full.Chance, full.ChanceLow, full.ChanceHigh, full.Method, v.EffectiveRows
	row.Held, row.Failed, row.Infeasible, row.Verdict = full.Held, full.Failed, full.Infeasible, verdict(&full)
	row.MarginP05, row.MarginP50, row.MarginP95 = full.MarginP05, full.MarginP50, full.MarginP95
	return row, nil
}
