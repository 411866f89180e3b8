package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

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
func (j *Joint) InWords() string { return j.Naming(func(name string) string { return name }) }

// Naming is InWords with the claims' names as they are set in a text.
func (j *Joint) Naming(set func(name string) string) string {
	claim, given := set(j.Claim), set(j.Given)
	where := fmt.Sprintf("where %s holds (%s draws) %s does so", given, Grouped(j.Rows), claim)
	switch {
	case j.Rows == 0:
		return fmt.Sprintf("where %s holds: in no draw, so nothing is known of %s there", given, claim)
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
	for i, j := range a.PairsTold() {
		if i == mostJoint {
			b.item(fmt.Sprintf("%d more pairs: joint.parquet", len(a.Joint)-i))
			return
		}
		b.item(j.InWords())
	}
}

// PairsTold are the pairs of claims, those that exclude each other first, then those where
// the other one changes a claim's chance most.
func (a *Answer) PairsTold() []*Joint {
	alone := map[string]float64{}
	for _, c := range a.Claims {
		alone[c.Name] = c.Chance
	}
	by := func(j *Joint) float64 {
		switch {
		case j.Excludes:
			return 2
		case j.Chance == nil:
			return -1
		}
		return math.Abs(*j.Chance - alone[j.Claim])
	}
	var all []*Joint
	for i := range a.Joint {
		all = append(all, &a.Joint[i])
	}
	slices.SortStableFunc(all, func(x, y *Joint) int { return cmp.Compare(by(y), by(x)) })
	return all
}

// shortExcluded names the pairs of claims that hold together in no draw.
func (a *Answer) shortExcluded(b *page) {
	var pairs []string
	for _, j := range a.Joint {
		if j.Excludes && !slices.Contains(pairs, j.Given+" and "+j.Claim) {
			pairs = append(pairs, j.Claim+" and "+j.Given)
		}
	}
	if len(pairs) == 0 {
		return
	}
	b.WriteString("\n")
	if more := len(pairs) - mostContradictions; more > 0 {
		pairs = append(pairs[:mostContradictions], Counted(more, "more pair")+" (--full)")
	}
	b.under("In no draw together, so that they exclude each other: ", strings.Join(pairs, "; ")+".")
}
