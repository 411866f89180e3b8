package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// Claims makes claims.parquet: a row a claim, and one for all of them together.
func (a *Analyst) Claims() (*result.Table, error) {
	claims := a.Plan.Claims
	verdicts := make([]claim.Verdict, len(claims))
	err := a.forEach(len(claims), func(i int, read func(string) ([]float64, error), _ *estimate.Scratch) error {
		holds, err := read(claims[i].Name)
		if err != nil {
			return err
		}
		var margin []float64
		if claims[i].Margin >= 0 {
			holds = append([]float64(nil), holds...) // the next read reuses the buffer
			if margin, err = read(plan.MarginColumn(claims[i].Name)); err != nil {
				return err
			}
		}
		verdicts[i], err = claim.Chance(holds, margin, a.design(), a.options())
		return err
	})
	if err != nil {
		return nil, err
	}
	t := newTable()
	for i, c := range claims {
		addVerdict(t, c, &verdicts[i])
		a.addAnnounced(t, c)
	}
	return t.table(nil), nil
}

func addVerdict(t *table, c plan.Claim, v *claim.Verdict) {
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("claim", c.Name, "name of the claim; all_claims: all of them in the same draw")
	t.text("text", c.Text, "the condition that was tested")
	t.number("chance", "1", v.Chance, "share of the draws in which it holds, given these inputs and this model; an infeasible draw does not hold")
	t.number("chance_low", "1", v.Interval.Low, "lower end of the interval of the chance")
	t.number("chance_high", "1", v.Interval.High, "upper end of the interval of the chance")
	t.text("method", v.Method, "how the interval was made")
	t.count("held", v.Held, "draws in which it holds")
	t.count("failed", v.Failed, "draws in which it fails")
	t.count("infeasible", v.Infeasible, "draws in which it can not be said")
	t.count("rows", v.Rows, "all draws")
	t.number("effective_rows", "1", v.EffectiveRows, "independent draws that would tell as much")
	unit := ""
	if c.Margin >= 0 {
		unit = c.Unit.String()
	}
	for _, m := range []struct {
		name  string
		value float64
	}{{"margin_p05", v.MarginP05}, {"margin_p50", v.MarginP50}, {"margin_p95", v.MarginP95}} {
		t.number(m.name, inRow, m.value, "percentile of how far inside the claim a draw lies; positive where it holds")
	}
	t.text("unit", unit, "unit of the margins")
}

// addAnnounced adds what the study says of the claim.
func (a *Analyst) addAnnounced(t *table, c plan.Claim) {
	var said study.Claim
	for _, s := range a.Plan.Study.Claims {
		if s.Name == c.Name {
			said = s
		}
	}
	t.text("of", said.Of, "the quantity that was announced, empty for a condition of the study's own")
	t.text("announced_in", said.AnnouncedIn.String(), "unit of the announcement")
	t.text("said_by", said.Free.SaidBy, "who said so")
	t.text("source", said.Free.Source, "where the claim was found")
}
