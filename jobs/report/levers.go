package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/result"
)

// A Lever is what a unit of something, changed in one vehicle, does to an output.
type Lever struct {
	Output  string `json:"output"`
	Vehicle string `json:"vehicle"`
	Name    string `json:"lever"`
	Text    string `json:"text"`
	Unit    string `json:"unit"`
	Averaged
}

func leversOf(rows []result.LeverRow) []Lever {
	var all []Lever
	for i := range rows {
		r := &rows[i]
		all = append(all, Lever{r.Output, r.Vehicle, r.Lever, r.Text, r.Unit,
			Averaged{Known(r.Mean), Known(r.MeanLow), Known(r.MeanHigh), Known(r.P05), Known(r.P50), Known(r.P95)}})
	}
	return all
}

// LeversOf are the levers of a vehicle on an output, those that do most first.
func (a *Answer) LeversOf(vehicle, output string) []*Lever {
	var all []*Lever
	for i := range a.Levers {
		if l := &a.Levers[i]; l.Vehicle == vehicle && l.Output == output && l.Mean != nil {
			all = append(all, l)
		}
	}
	slices.SortStableFunc(all, func(x, y *Lever) int { return cmp.Compare(size(y.Mean), size(x.Mean)) })
	return all
}

// Pulled are the outputs of which levers are told, those of claims first; each with the
// vehicle that it is of or, where it is of none, all that move it.
func (a *Answer) Pulled() (outputs, vehicles []string) {
	seen := map[string]bool{}
	add := func(output string) {
		for i := range a.Levers {
			l := &a.Levers[i]
			own, _, of := strings.Cut(output, ".")
			if l.Mean != nil && l.Output == output && (!of || l.Vehicle == own) && !seen[output+" "+l.Vehicle] {
				seen[output+" "+l.Vehicle] = true
				outputs, vehicles = append(outputs, output), append(vehicles, l.Vehicle)
			}
		}
	}
	for i := range a.Claims {
		add(a.Claims[i].Of)
	}
	for i := range a.Levers {
		add(a.Levers[i].Output)
	}
	return outputs, vehicles
}

// SignedIn writes what a lever does with the unit of differences of its output.
func (l *Lever) SignedIn() string {
	text := Short(*l.Mean)
	if *l.Mean > 0 {
		text = "+" + text
	}
	return WithUnit(text, UnitOfDifferences(l.Unit))
}

// wideLevers is the width from which what a lever does stands beside it.
const wideLevers = 80

// writeLevers tells what a unit of each lever does.
func (a *Answer) writeLevers(b *page) {
	outputs, vehicles := a.Pulled()
	if len(outputs) == 0 {
		return
	}
	b.WriteString("\nWHAT DOES A UNIT OF EACH LEVER DO?\n")
	b.para("One thing is changed in one vehicle, by so much, all else held (machines and coast-down as built); means over the draws, behind them what nine in ten draws give.", "  ")
	for i, output := range outputs {
		name := output
		if own, _, _ := strings.Cut(output, "."); own != vehicles[i] {
			name += ", by " + vehicles[i]
		}
		fmt.Fprintf(b, "  %s\n", fit(name, b.width-2))
		for _, l := range a.LeversOf(vehicles[i], output) {
			n := Numbers(l.P05, l.P95)
			if b.width < wideLevers {
				fmt.Fprintf(b, "    %s\n      %s, %s to %s\n", fit(l.Text, b.width-4), l.SignedIn(), n[0], n[1])
				continue
			}
			fmt.Fprintf(b, "    %-38s%15s   %s to %s\n", fit(l.Text, 37), l.SignedIn(), n[0], n[1])
		}
	}
}
