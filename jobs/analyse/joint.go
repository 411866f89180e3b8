package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// mostPaired is how many claims, the first ones, are looked at in pairs.
const mostPaired = 12

// Joint makes the rows of joint.parquet: the chance of each claim where each other one holds.
// chance is that of each of the plan's claims.
func (a *Analyst) Joint(chance map[string]float64) ([]result.JointRow, error) {
	if err := a.weigh(); err != nil {
		return nil, err
	}
	var single []plan.Claim
	for _, c := range a.Plan.Claims {
		if c.Name != study.AllClaims && len(single) < mostPaired {
			single = append(single, c)
		}
	}
	var rows []result.JointRow
	for _, c := range single {
		for _, given := range single {
			if given.Name != c.Name {
				rows = append(rows, result.JointRow{Choice: int64(a.Plan.Choice), Claim: c.Name, Given: given.Name})
			}
		}
	}
	err := a.forEach(len(rows), func(i int, read reader, _ *estimate.Scratch) error {
		r := &rows[i]
		holds, err := read(r.Claim)
		if err != nil {
			return err
		}
		other, err := read(r.Given)
		if err != nil {
			return err
		}
		design, err := a.weighted(read)
		if err != nil {
			return err
		}
		c, err := claim.Given(holds, other, design, a.options())
		if a.poor() {
			c.Interval = estimate.None()
		}
		r.Chance, r.Low, r.High, r.Both, r.Rows = c.Chance, c.Interval.Low, c.Interval.High, int64(c.Both), int64(c.Rows)
		if c.Excludes(chance[r.Claim]) {
			r.Excludes = 1
		}
		return err
	})
	return rows, err
}
