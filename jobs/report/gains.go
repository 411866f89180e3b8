package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/result"
)

// A Gain is what a candidate gains over the baseline in one output, and what it is made of.
type Gain struct {
	Output string   `json:"output"`
	Unit   string   `json:"unit"`
	Total  Averaged `json:"total"`
	Causes []Cause  `json:"causes"` // the largest first; they add up to the total
}

// Averaged is a mean over the draws with its interval, and what single draws give.
type Averaged struct {
	Mean *float64 `json:"mean"`
	Low  *float64 `json:"mean_low"`
	High *float64 `json:"mean_high"`
	P05  *float64 `json:"p05"`
	P50  *float64 `json:"p50"`
	P95  *float64 `json:"p95"`
}

// A Cause is what the two vehicles' difference in one kind of quantity brings.
type Cause struct {
	Name string `json:"cause"`
	Averaged
	Parts []Cause `json:"parts,omitempty"` // which add up to it
}

// gainsOf gathers the rows of the table, an output a gain.
func gainsOf(rows []result.CauseRow) []Gain {
	var gains []Gain
	for i := range rows {
		r := &rows[i]
		if len(gains) == 0 || gains[len(gains)-1].Output != r.Output {
			gains = append(gains, Gain{Output: r.Output, Unit: r.Unit})
		}
		g := &gains[len(gains)-1]
		share := Averaged{Known(r.Mean), Known(r.MeanLow), Known(r.MeanHigh), Known(r.P05), Known(r.P50), Known(r.P95)}
		switch {
		case r.Cause == result.TotalCause:
			g.Total = share
		case r.PartOf == "":
			g.Causes = append(g.Causes, Cause{Name: r.Cause, Averaged: share})
		default:
			for k := range g.Causes {
				if g.Causes[k].Name == r.PartOf {
					g.Causes[k].Parts = append(g.Causes[k].Parts, Cause{Name: r.Cause, Averaged: share})
				}
			}
		}
	}
	for _, g := range gains {
		sortCauses(g.Causes)
		for _, c := range g.Causes {
			sortCauses(c.Parts)
		}
	}
	return gains
}

func sortCauses(causes []Cause) {
	slices.SortStableFunc(causes, func(x, y Cause) int { return cmp.Compare(size(y.Mean), size(x.Mean)) })
}

func size(x *float64) float64 {
	if x == nil {
		return -1
	}
	return math.Abs(*x)
}

// Gain is that of an output, nil if there is none or a mean of it is not known.
func (a *Answer) Gain(output string) *Gain {
	unknown := func(c Cause) bool { return c.Mean == nil }
	for i := range a.Gains {
		g := &a.Gains[i]
		if g.Output == output && g.Total.Mean != nil && !slices.ContainsFunc(g.Causes, unknown) && !slices.ContainsFunc(g.shares(), unknown) {
			return g
		}
	}
	return nil
}

// mostCauses is how many causes, or parts of the only one, a line names.
const mostCauses = 4

// InWords says what a gain is made of: means, which add up.
func (g *Gain) InWords() string {
	n := mostCauses
	if len(g.shares()) == mostCauses+1 {
		n++
	}
	return g.naming(n)
}

// Largest names the two largest shares and counts the others.
func (g *Gain) Largest() string { return g.naming(2) }

// within is InWords with as many causes as fit a line of a width, one at least.
func (g *Gain) within(width int) string {
	text := g.InWords()
	for n := mostCauses; n > 0 && len([]rune(text)) > width; n-- {
		text = g.naming(n)
	}
	return text
}

// shares are the causes, or what the only one is made of.
func (g *Gain) shares() []Cause {
	if len(g.Causes) == 1 && len(g.Causes[0].Parts) > 0 {
		return g.Causes[0].Parts
	}
	return g.Causes
}

// naming names the n largest shares and counts the others.
func (g *Gain) naming(n int) string {
	shares, head := g.shares(), ""
	if len(g.Causes) == 1 {
		if head = "all " + g.Causes[0].Name; len(g.Causes[0].Parts) == 0 {
			return head
		}
		head += ": "
	}
	var words []string
	left := *g.Total.Mean
	for _, c := range shares[:min(n, len(shares))] {
		words = append(words, c.Name+" "+g.Signed(*c.Mean))
		left -= *c.Mean
	}
	if n < len(shares) {
		words = append(words, fmt.Sprintf("%s more %s", Count(len(shares)-n), g.Signed(left)))
	}
	return head + strings.Join(words, ", ") + "; mean " + WithUnit(g.Signed(*g.Total.Mean), UnitOfDifferences(g.Unit))
}

// Signed writes a mean of the gain with its sign, and the digits that the largest deserves.
func (g *Gain) Signed(x float64) string {
	most := size(g.Total.Mean)
	for _, c := range g.Causes {
		most = max(most, size(c.Mean))
	}
	text := fmt.Sprintf("%+.*f", max(0, min(9, 1-int(math.Floor(math.Log10(max(most, 1e-9)))))), x)
	if strings.Trim(text, "+-0.") == "" {
		return strings.TrimLeft(text, "+-")
	}
	return text
}

// writeGains tells what each gain is made of, its parts beside it.
func (a *Answer) writeGains(b *page) {
	if len(a.Gains) == 0 {
		return
	}
	b.WriteString("\nWHAT MAKES THE DIFFERENCE?\n")
	b.para("Means over the draws of what each difference between the vehicles brings, averaged over every order in which they could come, so that they add up; behind them what nine in ten draws give.", "  ")
	for i := range a.Gains {
		g := &a.Gains[i]
		if g.Total.Mean == nil {
			continue
		}
		fmt.Fprintf(b, "  %-30s%9s %s\n", fit(g.Output, 30), g.Signed(*g.Total.Mean), g.unit())
		for _, c := range g.Causes {
			g.writeCause(b, c, 4)
			if len(g.Causes) > 1 || len(c.Parts) > 0 {
				for _, p := range c.Parts {
					g.writeCause(b, p, 6)
				}
			}
		}
	}
}

func (g *Gain) unit() string { return strings.TrimSpace(WithUnit("", g.Unit)) }

func (g *Gain) writeCause(b *page, c Cause, indent int) {
	if c.Mean == nil {
		return
	}
	n := Numbers(c.P05, c.P95)
	fmt.Fprintf(b, "%*s%-*s%9s   %s to %s\n", indent, "", 32-indent, fit(c.Name, 31-indent), g.Signed(*c.Mean), n[0], n[1])
}
