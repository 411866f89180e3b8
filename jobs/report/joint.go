package report

import (
	"fmt"

	"proofmass/jobs/result"
)

// A Joint is how often a claim holds where another does.
type Joint struct {
	Claim    string   `json:"claim"`
	Given    string   `json:"given"`
	Chance   *float64 `json:"chance"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
	Both     int64    `json:"both"`
	Rows     int64    `json:"rows"`
	Excludes bool     `json:"excludes,omitempty"`
}

func jointOf(rows []result.JointRow) []Joint {
	var all []Joint
	for i := range rows {
		r := &rows[i]
		all = append(all, Joint{Claim: r.Claim, Given: r.Given, Chance: Known(r.Chance), Low: Known(r.Low), High: Known(r.High), Both: r.Both, Rows: r.Rows, Excludes: r.Excludes == 1})
	}
	return all
}

// InWords says the chance as a natural frequency among the draws where the other holds.
func (j *Joint) InWords() string {
	where := fmt.Sprintf("where %s holds (%s draws) %s does so", j.Given, Grouped(j.Rows), j.Claim)
	switch {
	case j.Rows == 0:
		return fmt.Sprintf("where %s holds: in no draw, so nothing is known of %s there", j.Given, j.Claim)
	case j.Excludes:
		return where + " in none of them: they exclude each other"
	case j.Both == 0:
		return where + " in no draw"
	case j.Both == j.Rows:
		return where + " in every one of them"
	case j.Low == nil || j.High == nil:
		return fmt.Sprintf("%s in %s of them", where, Grouped(j.Both))
	}
	return fmt.Sprintf("%s in %s of them (%.1f %%, %.1f to %.1f)", where, ratioOf(*j.Chance, *j.Low, *j.High), 100**j.Chance, 100**j.Low, 100**j.High)
}

// mostJoint is how many pairs the terminal tells.
const mostJoint = 12

// writeJoint tells whether claims come together.
func (a *Answer) writeJoint(b *page) {
	if len(a.Joint) == 0 {
		return
	}
	b.WriteString("\nDO THEY COME TOGETHER?\n")
	for i := range a.Joint {
		if i == mostJoint {
			b.item(fmt.Sprintf("%d more pairs: joint.parquet", len(a.Joint)-i))
			return
		}
		b.item(a.Joint[i].InWords())
	}
}
