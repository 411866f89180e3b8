package report

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/result"
)

// cautions are first those of this answer, then those of every answer.
func (t *tables) cautions(a *Answer) []string {
	var cautions []string
	_ = json.Unmarshal([]byte(t.meta[MetaWarnings]), &cautions) // absent: none
	cautions = append(cautions, a.rareCautions()...)
	a.Odd, _ = strconv.Atoi(t.meta[MetaOdd])
	if r := a.Run; r.HalfWidthAsked != nil && r.HalfWidthReached != nil && *r.HalfWidthReached > *r.HalfWidthAsked {
		cautions = append(cautions, fmt.Sprintf("Shares are known to +-%.1f points, not to the +-%.1f wanted: raise indices.at_most, or run more rows.", 100**r.HalfWidthReached, 100**r.HalfWidthAsked))
	}
	wide := t.tooWide()
	if len(wide) > 0 {
		cautions = append(cautions, fmt.Sprintf("No shares of %s: the variance is beyond the largest number that a computer's arithmetic holds, 1.8e308. State it in a larger unit, or as its logarithm.", Listed(wide)))
	}
	if share := t.dropped(wide); share > 0.01 {
		cautions = append(cautions, fmt.Sprintf("Sensitivity describes feasible draws only: up to %.0f %% of the rows behind a figure were left out because a run is infeasible.", 100*share))
	}
	if a.Run.PairsLeftOut > 0 {
		cautions = append(cautions, unlookedAt(a.Run.PairsLeftOut))
	}
	if g := a.Run.Stopping; g != nil {
		cautions = append(cautions, g.short()...)
	}
	if a.Evidence != nil {
		cautions = append(a.Evidence.cautions(a.Run.Rows), cautions...)
	}
	if a.Accounts != nil {
		cautions = append([]string{a.Accounts.caution()}, cautions...)
	}
	cautions = append(cautions, always...)
	var left []string
	_ = json.Unmarshal([]byte(t.left), &left) // absent: nothing was left out
	for _, l := range left {
		cautions = append(cautions, "To save time some figures were not made for all: "+l+".")
	}
	if t.meta[MetaModel] == "vehicle" {
		cautions = append(cautions, ofVehicles...)
	}
	return cautions
}

// unlookedAt says how many pairs there was no room for.
func unlookedAt(pairs int) string {
	if pairs == 1 {
		return "One pair of inputs that may act together was not looked at: raise indices.at_most."
	}
	return fmt.Sprintf("%d pairs of inputs that may act together were not looked at: raise indices.at_most.", pairs)
}

// contradictions are what stands before any verdict: what the draws say against
// themselves, and what has no value.
func (t *tables) contradictions(a *Answer) []Contradiction {
	found := []Contradiction{}
	_ = json.Unmarshal([]byte(t.meta[MetaContradictions]), &found) // absent: an older folder
	for i := range found {
		found[i].Text = "This cannot be: " + found[i].Text
	}
	found = append(found, t.negativeMasses(found)...)
	for _, c := range a.Claims {
		if c.Infeasible > 0 && !c.Together() {
			found = append(found, Contradiction{Name: c.Name, Share: float64(c.Infeasible) / float64(c.Rows), Claims: []string{},
				Text: fmt.Sprintf("%s: %s of %s draws are infeasible and count as not holding", c.Name, Grouped(c.Infeasible), Grouped(c.Rows))})
		}
	}
	return found
}

// slips tells each claim which odd inputs, likely slips, it rests on.
func (t *tables) slips(a *Answer) {
	var slips []struct {
		Text   string   `json:"text"`
		Claims []string `json:"claims"`
	}
	_ = json.Unmarshal([]byte(t.meta[MetaSlips]), &slips) // absent: an older folder
	for i := range a.Claims {
		for _, s := range slips {
			if c := &a.Claims[i]; slices.Contains(s.Claims, c.Name) {
				c.OddInputs = append(c.OddInputs, s.Text)
			}
		}
	}
}

// RestsOnOdd says behind a verdict which likely slip it rests on, "" where on none.
func (c *Claim) RestsOnOdd() string {
	switch len(c.OddInputs) {
	case 0:
		return ""
	case 1:
		return "rests on an odd input: " + c.OddInputs[0]
	}
	return fmt.Sprintf("rests on %s odd inputs: %s", Count(len(c.OddInputs)), strings.Join(c.OddInputs, ", "))
}

// dropped is the largest share of rows left out behind an index.
func (t *tables) dropped(wide []string) float64 {
	most := 0.0
	for i := range t.indices {
		if slices.Contains(wide, t.indices[i].Output) {
			continue
		}
		if share := t.indices[i].Dropped; share > most {
			most = share
		}
	}
	return most
}

// tooWide are the outputs whose standard deviation is finite, or nearly, and its square is not.
func (t *tables) tooWide() []string {
	var names []string
	for i := range t.summary {
		if r := &t.summary[i]; r.Role == result.RoleOutput && math.IsInf(r.SD*r.SD, 0) {
			names = append(names, r.Output)
		}
	}
	return names
}

// negativeMasses says what the masses of an account do to each other: parts that
// weigh more than their whole, a pack that weighs less, net, than its own cells; but not
// what is told as a contradiction.
func (t *tables) negativeMasses(told []Contradiction) []Contradiction {
	says := map[string]string{}
	_ = json.Unmarshal([]byte(t.meta[MetaBelowNil]), &says) // absent: nothing is said
	var found []Contradiction
	for i := range t.summary {
		r := &t.summary[i]
		what, says := says[r.Quantity]
		isTold := slices.ContainsFunc(told, func(c Contradiction) bool { return c.Name == r.Output })
		if says && !isTold && r.Negative > 0 {
			found = append(found, Contradiction{Name: r.Output, Share: float64(r.Negative) / float64(r.Rows), Claims: []string{},
				Text: fmt.Sprintf("%s: %s, in %s of %s draws", r.Vehicle, what, Grouped(r.Negative), Grouped(r.Rows))})
		}
	}
	return found
}

var always = []string{
	"Chances are about the inputs as stated and this model, a screening model; they are not measurements.",
}

// NotJudged is what no answer judges.
func NotJudged() string { return ofVehicles[len(ofVehicles)-1] }

var ofVehicles = []string{
	"A level of range or consumption is much less sure than a gain between two cars of the same study.",
	"A labelled range or consumption is only what an accredited test measures.",
	"Structure, crash, high voltage and thermal runaway are not judged here: they need tests, licensed practice and the local codes.",
}
