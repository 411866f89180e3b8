package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// mostTied is how many pairs are shown; the JSON has all.
const mostTied = 6

// told says what a sample that grew has reached.
func (g *Stopping) told() string {
	var parts []string
	if g.ChanceAsked != nil {
		parts = append(parts, "chances "+g.knownTo(g.ChanceReached, 1, 4, ""))
	}
	if g.PercentilesAsked != nil {
		parts = append(parts, "percentiles "+g.knownTo(g.PercentilesReached, 100, 2, " % of the width from p05 to p95"))
	}
	rounds := "1 round"
	if g.Rounds > 1 {
		rounds = fmt.Sprintf("%d rounds", g.Rounds)
	}
	return rounds + ": " + strings.Join(parts, ", ")
}

func (g *Stopping) knownTo(reached *float64, times float64, decimals int, unit string) string {
	if reached == nil {
		return "not known"
	}
	power := math.Pow(10, float64(decimals)) // up: a half-width is not told smaller than it is
	return fmt.Sprintf("known to +-%.*f%s", decimals, math.Ceil(*reached*times*power-1e-9)/power, unit)
}

// short says which half-widths were not reached.
func (g *Stopping) short() []string {
	var c []string
	if !within(g.ChanceReached, g.ChanceAsked) {
		c = append(c, fmt.Sprintf("Chances are %s, not to the +-%g asked for: raise sample.at_most.", g.knownTo(g.ChanceReached, 1, 4, ""), *g.ChanceAsked))
	}
	if !within(g.PercentilesReached, g.PercentilesAsked) {
		c = append(c, fmt.Sprintf("Percentiles are %s, not to the +-%g %% asked for: raise sample.at_most.", g.knownTo(g.PercentilesReached, 100, 2, " % of the width from p05 to p95"), 100**g.PercentilesAsked))
	}
	return c
}

// writeTied shows the pairs whose correlation in the draws is furthest from what
// was wanted first.
func writeTied(b *page, tied []Tied) {
	if len(tied) == 0 {
		return
	}
	off := func(t Tied) float64 {
		if t.Achieved == nil {
			return 2
		}
		return math.Abs(*t.Achieved - t.Wanted)
	}
	tied = slices.Clone(tied)
	slices.SortStableFunc(tied, func(x, y Tied) int { return cmp.Compare(off(y), off(x)) })
	var pairs []string
	for _, t := range tied[:min(mostTied, len(tied))] {
		draws := "none can be had"
		if t.Achieved != nil {
			draws = fmt.Sprintf("%.3f", *t.Achieved)
		}
		pairs = append(pairs, fmt.Sprintf("%s and %s %g (%s)", t.Input, t.Other, t.Wanted, draws))
	}
	if n := len(tied) - len(pairs); n > 0 {
		pairs = append(pairs, fmt.Sprintf("%d pairs more, all nearer", n))
	}
	b.para("Tied by rank correlation, wanted (and in the draws): "+strings.Join(pairs, "; ")+".", "  ")
}
