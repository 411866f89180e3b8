package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

// A Told is what an answer tells in words, of a claim or of all, before and after; "" where
// it tells nothing.
type Told struct {
	What   string `json:"what"` // one of the words below
	Before string `json:"before,omitempty"`
	After  string `json:"after,omitempty"`
	shown  string // both, in the units that people are shown
}

// What may be told otherwise than before.
const (
	MadeOf   = "made_of"  // what makes the claimed difference, means over the draws
	Levers   = "levers"   // what a unit of the two that do most does
	Together = "together" // how often a claim holds where another does
	Readings = "readings" // in which reading the claims hold together most often
)

// InWords is the label of a line and what it tells.
func (t *Told) InWords() (label, words string) {
	return strings.ReplaceAll(t.What, "_", " "), t.shown
}

// against tells what is now and what was; "" where both are the same.
func against(before, after string) string {
	switch {
	case before == after:
		return ""
	case after == "":
		return "no longer told; before " + before
	case before == "":
		return after + "; before not told"
	}
	return after + "; before " + before
}

// reworded lists what both answers tell otherwise, in words made by tell.
func reworded(what string, a, b *report.Answer, tell func(*report.Answer) string) []Told {
	t := Told{What: what, Before: tell(a), After: tell(b), shown: against(tell(a.Shown()), tell(b.Shown()))}
	if t.Before == t.After || t.shown == "" {
		return nil
	}
	return []Told{t}
}

// notable is by how much of the larger one a number in words has moved before the words are
// told anew.
const notable = 0.05

// ofClaim is what is told of a claim of both results.
func ofClaim(a, b *report.Answer, of string) []Told {
	var all []Told
	if parted(a.Gain(of), b.Gain(of)) {
		all = reworded(MadeOf, a, b, func(x *report.Answer) string {
			if g := x.Gain(of); g != nil {
				return g.Largest()
			}
			return ""
		})
	}
	if pulled(firstLevers(a, of), firstLevers(b, of)) {
		all = append(all, reworded(Levers, a, b, func(x *report.Answer) string {
			var words []string
			for _, l := range firstLevers(x, of) {
				words = append(words, l.Text+" "+l.SignedIn())
			}
			return strings.Join(words, "; ")
		})...)
	}
	return all
}

// parted reports whether a cause of a gain brings notably more or less of it.
func parted(old, new *report.Gain) bool {
	if old == nil || new == nil {
		return old != new
	}
	most := max(math.Abs(*old.Total.Mean), math.Abs(*new.Total.Mean))
	brings := func(g *report.Gain, cause string) float64 {
		for _, c := range g.Causes {
			if c.Name == cause {
				return *c.Mean
			}
		}
		return 0
	}
	return slices.ContainsFunc(slices.Concat(old.Causes, new.Causes), func(c report.Cause) bool {
		return math.Abs(brings(new, c.Name)-brings(old, c.Name)) > notable*most
	})
}

// firstLevers are the two that do most to an output.
func firstLevers(a *report.Answer, of string) []*report.Lever {
	vehicle, _, _ := strings.Cut(of, ".")
	all := a.LeversOf(vehicle, of)
	return all[:min(len(all), 2)]
}

// pulled reports whether they are others, or do notably more or less.
func pulled(old, new []*report.Lever) bool {
	if len(old) != len(new) {
		return true
	}
	for i := range old {
		was, is := *old[i].Mean, *new[i].Mean
		if old[i].Name != new[i].Name || math.Abs(is-was) > notable*max(math.Abs(is), math.Abs(was)) {
			return true
		}
	}
	return false
}

// ofAll is what is told of the claims together.
func ofAll(a, b *report.Answer) []Told {
	return append(reworded(Readings, a, b, func(x *report.Answer) string {
		if x.Readings == nil {
			return ""
		}
		text := x.Readings.Told()
		return strings.ToLower(text[:1]) + strings.TrimSuffix(text[1:], ".")
	}), together(a, b)...)
}

// mostTogether is how many pairs of claims are told of.
const mostTogether = 3

// together are the pairs of claims of which the chance of one where the other holds has moved
// by more than sampling error, those that moved most first.
func together(a, b *report.Answer) []Told {
	type moved struct {
		by    float64
		words Told
	}
	var all []moved
	for i := range b.Joint {
		now := &b.Joint[i]
		at := slices.IndexFunc(a.Joint, func(j report.Joint) bool { return j.Claim == now.Claim && j.Given == now.Given })
		if at < 0 || now.Chance == nil || now.Low == nil || now.High == nil {
			continue
		}
		then := &a.Joint[at]
		if then.Chance == nil || then.Low == nil || then.High == nil || *then.High >= *now.Low && *now.High >= *then.Low {
			continue
		}
		t := Told{What: Together, Before: then.InWords(), After: now.InWords(),
			shown: fmt.Sprintf("%s where %s holds: %s; before %s", now.Claim, now.Given, report.Often(*now.Chance), report.Often(*then.Chance))}
		all = append(all, moved{math.Abs(*now.Chance - *then.Chance), t})
	}
	slices.SortStableFunc(all, func(x, y moved) int { return cmp.Compare(y.by, x.by) })
	var first []Told
	for _, m := range all[:min(len(all), mostTogether)] {
		first = append(first, m.words)
	}
	return first
}
