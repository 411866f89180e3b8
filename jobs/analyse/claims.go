package analyse

import (
	"math"
	"slices"
	"strconv"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// Claims makes the rows of claims.parquet: one a claim, and one for all of them together.
func (a *Analyst) Claims() ([]result.ClaimRow, error) {
	if err := a.weigh(); err != nil {
		return nil, err
	}
	claims := a.Plan.Claims
	verdicts := make([]claim.Verdict, len(claims))
	err := a.forEach(len(claims), func(i int, read reader, scratch *estimate.Scratch) error {
		holds, err := read(claims[i].Name)
		if err != nil {
			return err
		}
		var margin estimate.Column
		if claims[i].Margin >= 0 {
			if margin, err = read(study.MarginColumn(claims[i].Name)); err != nil {
				return err
			}
		}
		design, err := a.weighted(read)
		if err != nil {
			return err
		}
		verdicts[i], err = claim.ChanceOf(holds, margin, design, a.options(), scratch)
		return err
	})
	if err != nil {
		return nil, err
	}
	rows := make([]result.ClaimRow, len(claims))
	for i, c := range claims {
		rows[i] = a.claimRow(c, &verdicts[i])
	}
	return rows, nil
}

func (a *Analyst) claimRow(c plan.Claim, v *claim.Verdict) result.ClaimRow {
	var said study.Claim // all_claims: nothing
	if i := slices.IndexFunc(a.Plan.Study.Claims, func(s study.Claim) bool { return s.Name == c.Name }); i >= 0 {
		said = a.Plan.Study.Claims[i]
	}
	row := result.ClaimRow{
		Choice: int64(a.Plan.Choice), Claim: c.Name, Text: c.Text, Chance: v.Chance, ChanceLow: v.Interval.Low, ChanceHigh: v.Interval.High, Method: result.ChanceMethod(v.Method),
		Held: int64(v.Held), Failed: int64(v.Failed), Infeasible: int64(v.Infeasible), Rows: int64(v.Rows), EffectiveRows: v.EffectiveRows,
		MarginP05: v.MarginP05, MarginP50: v.MarginP50, MarginP95: v.MarginP95,
		Of: said.Of, AnnouncedIn: said.AnnouncedIn.String(), SaidBy: said.Free.SaidBy, Source: said.Free.Source,
	}
	a.sayWeighted(&row)
	a.addRare(&row)
	a.addWidths(&row, c)
	if c.Margin >= 0 {
		row.Unit = c.Unit.String()
	}
	row.Verdict = verdict(&row)
	if row.Verdict == result.Falls && a.around(&said) {
		row.Verdict = result.InDoubt
	}
	if a.Plan.Contradicted(c.Name) {
		row.Verdict = result.NotJudged
	}
	row.Announced, row.RoundedTo, row.Limit = math.NaN(), math.NaN(), math.NaN()
	if said.Of != "" {
		addAnnounced(&row, &said)
	}
	return row
}

// addAnnounced tells what was announced and what was tested, in the unit of the
// announcement.
func addAnnounced(row *result.ClaimRow, said *study.Claim) {
	u := said.AnnouncedIn
	row.Sense, row.Announced = result.Sense(said.Sense), written(u.FromSI(said.Announced))
	if said.RoundedTo > 0 {
		row.RoundedTo = written(u.DeltaFromSI(said.RoundedTo))
	}
	switch {
	case said.Sense == string(result.About):
		row.Side = result.Within
		return
	case said.Below:
		row.Side = result.Below
	default:
		row.Side = result.Above
	}
	row.Limit = written(u.FromSI(said.Limit))
}

// written is the number that somebody wrote, before it went to SI and back: to 12
// digits, as the claim's text has it.
func written(x float64) float64 {
	if short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64); err == nil {
		return short
	}
	return x
}
