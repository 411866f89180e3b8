package report

import (
	"fmt"
	"math"
	"strings"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// Evidence is what was measured, how far it agrees with the inputs, and what it changed.
type Evidence struct {
	Facts        []Fact    `json:"facts"`
	ESS          float64   `json:"effective_rows"`
	LargestShare float64   `json:"largest_share"`
	ParetoK      *float64  `json:"pareto_k"`
	Poor         bool      `json:"poor"` // the weights have a heavy tail: no intervals, no percentiles
	Method       string    `json:"method"`
	Moved        *Moving   `json:"moved,omitempty"` // where weights were poor and draws were moved instead
	Claims       []Shifted `json:"claims"`          // chances before and after
}

// A Fact is one thing that was measured, and the quantity before and after all of them.
type Fact struct {
	Of               string   `json:"of"`
	Text             string   `json:"text"`
	Value            float64  `json:"value"`
	SD               *float64 `json:"sd"`
	Unit             string   `json:"unit"`
	PriorPercentile  *float64 `json:"prior_percentile"`
	OthersPercentile *float64 `json:"others_percentile"`
	Contradicts      bool     `json:"contradicts"`
	Odd              bool     `json:"odd"`
	Source           string   `json:"source,omitempty"`
	Before           Spread   `json:"before"`
	After            Spread   `json:"after"`
}

// A Moving says how draws were moved to what was measured.
type Moving struct {
	Weighed float64 `json:"weighed_rows"` // effective rows that weights would have left
	Rows    int     `json:"rows"`
	Rounds  int     `json:"rounds"`
	Runs    int     `json:"model_runs"`
}

// movedBy takes in what the manifest says.
func (e *Evidence) movedBy(w *result.Weights) {
	if e != nil && w != nil && w.Method == result.ByTempering {
		e.Moved = &Moving{w.Weighed, w.Rows, w.Rounds, w.ModelRuns}
	}
}

// Shifted is the chance of a claim before and after what was measured.
type Shifted struct {
	Claim  string         `json:"claim"`
	Before float64        `json:"before"`
	After  float64        `json:"after"`
	Then   result.Verdict `json:"verdict_before"`
	Now    result.Verdict `json:"verdict"`

	was, is string // in words
}

// evidence is nil where nothing was measured.
func (t *tables) evidence() *Evidence {
	if len(t.facts) == 0 {
		return nil
	}
	first := &t.facts[0]
	e := &Evidence{ESS: first.ESS, LargestShare: first.LargestShare, ParetoK: Known(first.ParetoK), Poor: first.Method == result.ByWeights && first.ParetoK > first.ParetoLimit, Method: string(first.Method)}
	spread := func(rows []result.SummaryRow, name string) Spread {
		for i := range rows {
			if r := &rows[i]; r.Output == name {
				return Spread{Unit: r.Unit, P05: Known(r.P05), P50: Known(r.P50), P95: Known(r.P95)}
			}
		}
		return Spread{}
	}
	for i := range t.facts {
		r := &t.facts[i]
		e.Facts = append(e.Facts, Fact{Of: r.Of, Text: r.Text, Value: r.Value, SD: Known(r.SD), Unit: r.Unit, PriorPercentile: Known(r.PriorPercentile),
			OthersPercentile: Known(r.OthersPercentile), Contradicts: r.Contradicts == 1, Odd: r.Odd == 1, Source: r.Source,
			Before: spread(t.earlier, r.Of), After: spread(t.summary, r.Of)})
	}
	for i := range t.claimed {
		for k := range t.claimedEarlier {
			if now, then := &t.claimed[i], &t.claimedEarlier[k]; now.Claim == then.Claim {
				e.Claims = append(e.Claims, Shifted{now.Claim, then.Chance, now.Chance, then.Verdict, now.Verdict, roughly(then), roughly(now)})
			}
		}
	}
	return e
}

// Counts says how much the draws tell after what was measured.
func (e *Evidence) Counts(rows int64) string {
	if m := e.Moved; m != nil {
		return fmt.Sprintf("%s draws would tell as much as %s of equal weight; so %s draws were moved to it in %d rounds, %s model runs", Grouped(rows), Short(m.Weighed), Grouped(int64(m.Rows)), m.Rounds, Grouped(int64(m.Runs)))
	}
	text := fmt.Sprintf("%s draws tell as much as %s of equal weight", Grouped(rows), Grouped(int64(math.Round(e.ESS))))
	if e.Poor {
		text += "; a few of them have most of the weight, so that no percentile and no interval is told"
	}
	return text
}

// Few reports whether so few draws count that figures are vague.
func (e *Evidence) Few() bool { return e.Poor || e.ESS < fewEffective }

// fewEffective is the effective number of draws below which p05 and p95 are not told.
const fewEffective = 200

// Help says what would help where few draws count.
func (e *Evidence) Help() string {
	return "more rows (sample: rows), or facts with all the doubt that their instruments have"
}

// Place says where a reading lies among those that were to be expected.
func (f *Fact) Place() string {
	var where string
	switch p := f.PriorPercentile; {
	case p == nil:
		return "the inputs give no value to compare it with"
	case *p < 0.0005:
		where = "below nearly every reading that the inputs made likely"
	case *p > 0.9995:
		where = "above nearly every reading that the inputs made likely"
	default:
		where = fmt.Sprintf("above %s in 100 of the readings that the inputs made likely", Short(100**p))
	}
	if o := f.OthersPercentile; o != nil && f.Contradicts && math.Abs(*o-*f.PriorPercentile) > 0.0005 {
		where += fmt.Sprintf(", above %s in 100 after the other facts", Short(100**o))
	}
	switch {
	case f.Odd:
		where += ": it CONTRADICTS what else is believed, the odd one out"
	case f.Contradicts:
		where += ": it CONTRADICTS what else is believed"
	}
	return where
}

// Narrowed says what a quantity was and is.
func (f *Fact) Narrowed() string {
	told := func(s *Spread) string {
		n := Numbers(s.P05, s.P50, s.P95)
		switch {
		case s.P50 == nil:
			return "not told"
		case s.P05 == nil || s.P95 == nil:
			return WithUnit(n[1], s.Unit) + " (ends not told)"
		}
		return WithUnit(n[1], s.Unit) + fmt.Sprintf(" (%s to %s)", n[0], n[2])
	}
	return "was " + told(&f.Before) + ", is " + told(&f.After)
}

// Said is what was measured, and by whom.
func (f *Fact) Said() string {
	text := f.Text
	if f.Source != "" {
		text += ", by " + f.Source
	}
	return text
}

// roughly is a chance in the words of its claim, and in per cent where draws tell that.
func roughly(r *result.ClaimRow) string {
	c := claimOf(r)
	words := strings.NewReplacer(" draws hold it", "", " draws holds it", "", " hold it", "").Replace(c.Frequency)
	if c.Held == 0 || c.Held == c.Rows || c.vague() != "" || min(c.Chance, 1-c.Chance) < 0.0005 {
		return words
	}
	return fmt.Sprintf("%s (%s %%)", words, Short(100*c.Chance))
}

// InWords says what the chance of a claim was and is.
func (m *Shifted) InWords() string { return ClaimName(m.Claim) + ": " + m.Moved() }

// Moved says what a chance was and is.
func (m *Shifted) Moved() string {
	text := fmt.Sprintf("was %s, is %s", m.was, m.is)
	if m.Then != m.Now {
		text += fmt.Sprintf("; %s -> %s", (&Claim{Verdict: m.Then}).InWords(), (&Claim{Verdict: m.Now}).InWords())
	}
	return text
}

// Furthest is the claim whose chance moved most.
func (e *Evidence) Furthest() *Shifted {
	most := &e.Claims[0]
	for i := range e.Claims {
		if m := &e.Claims[i]; math.Abs(m.After-m.Before) > math.Abs(most.After-most.Before) {
			most = m
		}
	}
	return most
}

// InOrder are the facts, those that contradict first.
func (e *Evidence) InOrder() []*Fact {
	var first, rest []*Fact
	for i := range e.Facts {
		if f := &e.Facts[i]; f.Contradicts {
			first = append(first, f)
		} else {
			rest = append(rest, f)
		}
	}
	return append(first, rest...)
}

// cautions of what was measured.
func (e *Evidence) cautions(rows int64) (all []string) {
	for i := range e.Facts {
		if f := &e.Facts[i]; f.Odd {
			all = append(all, fmt.Sprintf("What was measured of %s (%s) lies %s.", f.Of, f.Text, f.Place()))
		}
	}
	if e.Few() {
		all = append(all, fmt.Sprintf("After what was measured %s. What would help: %s.", e.Counts(rows), e.Help()))
	}
	return append(all, "Shares by swapped rows, bars of one input moved alone and the points of what must be true are of the inputs as stated, before what was measured; the rest is after it.")
}

// mostFactsTold is how many facts the short answer tells.
const mostFactsTold = 3

// shortEvidence tells what was measured and what became of it.
func (a *Answer) shortEvidence(b *page) {
	e := a.Evidence
	if e == nil {
		return
	}
	b.WriteString("\n")
	b.under("", "After what was measured: "+e.Counts(a.Run.Rows)+".")
	for i := range e.Facts {
		if i == mostFactsTold {
			b.item(fmt.Sprintf("%d more facts: --full", len(e.Facts)-i))
			break
		}
		f := &e.Facts[i]
		b.item(fmt.Sprintf("%s: %s; %s", f.Of, f.Text, f.Narrowed()))
		if f.Contradicts {
			b.item("  " + f.Place())
		}
	}
	for i := range e.Claims {
		if m := &e.Claims[i]; len(e.Claims) <= mostClaims && m.Claim != study.AllClaims {
			b.item(m.InWords())
		}
	}
}

// writeEvidence tells all of it.
func (a *Answer) writeEvidence(b *page) {
	e := a.Evidence
	if e == nil {
		return
	}
	b.WriteString("\nWHAT WAS MEASURED, AND WHAT IT CHANGED\n")
	b.item(e.Counts(a.Run.Rows))
	for i := range e.Facts {
		f := &e.Facts[i]
		b.item(fmt.Sprintf("%s: %s; %s; %s", f.Of, f.Said(), f.Place(), f.Narrowed()))
	}
	for i := range e.Claims {
		b.item(e.Claims[i].InWords())
	}
}
