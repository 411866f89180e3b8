package compare

import (
	"context"
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/shown"
)

// Read compares the finished results in two folders. Where their studies can't be read any
// more the comparison has no causes and says why.
func Read(ctx context.Context, old, new string, o Options) (*Comparison, error) {
	var sides [2]*folder
	for i, path := range []string{old, new} {
		var err error
		if sides[i], err = open(path); err != nil {
			return nil, err
		}
	}
	c := &Comparison{Old: sides[0].facts, New: sides[1].facts, Notes: notes(sides[0], sides[1], o.Version), Facts: facts(sides[0].answer, sides[1].answer), units: sides[1].units}
	c.Inputs = inputs(sides[0], sides[1], c.otherDraws())
	c.pair(sides[0], sides[1])
	if len(c.Claims)+len(c.Outputs) == 0 {
		return nil, fmt.Errorf("%s and %s %w", old, new, ErrOther)
	}
	return c, c.explain(ctx, sides[0], sides[1], o)
}

// folder is one result that was read.
type folder struct {
	path    string
	facts   Result
	summary []result.SummaryRow
	stated  []result.SummaryRow // before what was measured; the summary where nothing was
	answer  *report.Answer
	units   shown.Units
}

func open(path string) (*folder, error) {
	m, err := result.ReadManifest(path)
	if err != nil {
		return nil, err
	}
	f := &folder{path: path, facts: Result{path, m.Study, m.Ended, m.Program, m.Seed, m.Rows, m.StudyDigest}}
	if f.answer, err = report.Read(path); err != nil {
		return nil, err
	}
	if f.answer.Choices != nil {
		return nil, fmt.Errorf("%s %w", path, ErrChoices)
	}
	var meta map[string]string
	f.summary, meta, err = result.Summary.Read(path, m)
	f.units = report.UnitsShown(meta)
	if err != nil {
		return nil, err
	}
	if f.stated, _, err = result.Earlier.Summary.Read(path, m); f.stated == nil {
		f.stated = f.summary
	}
	return f, err
}

// notes are what a reader should know first.
func notes(a, b *folder, version string) []string {
	notes := []string{}
	if a.facts.Study != b.facts.Study {
		notes = append(notes, fmt.Sprintf("These are two studies, %s and %s: what both have by the same name is compared.", a.facts.Study, b.facts.Study))
	}
	if a.facts.Version != b.facts.Version || a.facts.Version != version {
		notes = append(notes, fmt.Sprintf("Version %s of the program made the old result, %s the new one, and %s works out the causes: what versions changed is in the line of the draws.", a.facts.Version, b.facts.Version, version))
	}
	if a.facts.Seed != b.facts.Seed || a.facts.Rows != b.facts.Rows {
		notes = append(notes, fmt.Sprintf("The old result has %s draws from seed %d, the new one %s from seed %d: what that did is in the line of the draws.",
			report.Grouped(a.facts.Rows), a.facts.Seed, report.Grouped(b.facts.Rows), b.facts.Seed))
	}
	return notes
}

// rows are what was stated, and what follows from it, by name.
func (f *folder) rows() map[string]*result.SummaryRow {
	rows := map[string]*result.SummaryRow{}
	for i := range f.stated {
		rows[f.stated[i].Output] = &f.stated[i]
	}
	return rows
}

// otherDraws reports whether rows or seed differ, so that every figure does by sampling alone.
func (c *Comparison) otherDraws() bool {
	return c.Old.Seed != c.New.Seed || c.Old.Rows != c.New.Rows
}

// inputs lists what was stated otherwise, in the order of the new result.
func inputs(a, b *folder, otherDraws bool) []Input {
	list := []Input{}
	olds, news := a.rows(), b.rows()
	add := func(name string, before, after *result.SummaryRow) {
		in := Input{Name: name, Before: belief(before), After: belief(after)}
		switch {
		case in.Before == nil && in.After == nil:
			return
		case !isInput(before) && !isInput(after):
			return
		case in.Before == nil || !isInput(before):
			in.Change = New
		case in.After == nil || !isInput(after):
			in.Change = Gone
		case before.StatedAs == after.StatedAs && after.Role == result.RoleFormula && before.Role == result.RoleFormula && moved(before, after, otherDraws):
			in.Change = Follows
		case before.StatedAs != after.StatedAs || moved(before, after, otherDraws):
			in.Change = StatedOtherwise
		case before.HowKnown != after.HowKnown || before.Source != after.Source:
			in.Change = Words
		default:
			return
		}
		list = append(list, in)
	}
	for i := range b.stated {
		add(b.stated[i].Output, olds[b.stated[i].Output], &b.stated[i])
	}
	for i := range a.stated {
		if news[a.stated[i].Output] == nil {
			add(a.stated[i].Output, &a.stated[i], nil)
		}
	}
	return list
}

// moved reports whether an input that reads as before has other numbers: a file of values, or
// what it is made of. With other draws it has where a percentile moved by more than both its
// intervals are wide: some 5.5 standard deviations.
func moved(a, b *result.SummaryRow, otherDraws bool) bool {
	for _, p := range [][2][3]float64{{{a.P05, a.P05Low, a.P05High}, {b.P05, b.P05Low, b.P05High}},
		{{a.P50, a.P50Low, a.P50High}, {b.P50, b.P50Low, b.P50High}}, {{a.P95, a.P95Low, a.P95High}, {b.P95, b.P95Low, b.P95High}}} {
		x, y := p[0], p[1]
		switch {
		case x[0] == y[0]:
		case !otherDraws, a.SD == 0 && b.SD == 0, math.Abs(x[0]-y[0]) > x[2]-x[1]+y[2]-y[1]:
			return true
		}
	}
	return false
}

// facts lists what was measured otherwise, in the order of the new result, then what no longer
// is; several facts of one quantity are one text.
func facts(old, new *report.Answer) []Fact {
	said := func(a *report.Answer) (names []string, texts map[string]string) {
		texts = map[string]string{}
		if a.Evidence == nil {
			return nil, texts
		}
		for _, f := range a.Evidence.Facts {
			if texts[f.Of] == "" {
				names = append(names, f.Of)
			} else {
				texts[f.Of] += ", and "
			}
			texts[f.Of] += f.Text
		}
		return names, texts
	}
	before, then := said(old)
	after, now := said(new)
	var list []Fact
	for _, name := range append(after, before...) {
		if then[name] != now[name] && !slices.ContainsFunc(list, func(f Fact) bool { return f.Of == name }) {
			list = append(list, Fact{name, then[name], now[name]})
		}
	}
	return list
}

func isInput(r *result.SummaryRow) bool {
	return r != nil && (r.Role == result.RoleInput || r.Role == result.RoleConstant || r.Role == result.RoleFormula)
}

func belief(r *result.SummaryRow) *Belief {
	if r == nil {
		return nil
	}
	return &Belief{r.StatedAs, string(r.Role), string(r.Origin), r.Unit, report.Known(r.P05), report.Known(r.P50), report.Known(r.P95), r.HowKnown, r.Source}
}

// pair finds what both results have.
func (c *Comparison) pair(a, b *folder) {
	c.Claims, c.Outputs, c.Gone, c.Added = []Claim{}, []Output{}, []string{}, []string{}
	claims := map[string]report.Claim{}
	for _, x := range a.answer.Claims {
		claims[x.Name] = x
	}
	for _, x := range b.answer.Claims {
		old, both := claims[x.Name]
		delete(claims, x.Name)
		if !both {
			c.Added = append(c.Added, x.Name)
			continue
		}
		c.Claims = append(c.Claims, Claim{Name: x.Name, Before: old, After: x, Moved: old.Verdict != x.Verdict,
			Chance:      Change{Before: report.Known(old.Chance), After: report.Known(x.Chance), By: report.Known(x.Chance - old.Chance), Causes: []Cause{}},
			NeedsBefore: needs(a.answer, x.Name), NeedsAfter: needs(b.answer, x.Name), turns: needs(b.answer.Shown(), x.Name),
			Told: ofClaim(a.answer, b.answer, x.Of), MixedBefore: mixed(a, x.Name), MixedAfter: mixed(b, x.Name), NextBefore: next(a, x.Name), NextAfter: next(b, x.Name)})
	}
	c.sameTogether(a, b)
	c.Told = ofAll(a.answer, b.answer)
	outputs := map[string]*result.SummaryRow{}
	for i := range a.summary {
		if r := &a.summary[i]; r.Role == result.RoleOutput {
			outputs[r.Output] = r
		}
	}
	for i := range b.summary {
		r := &b.summary[i]
		if r.Role != result.RoleOutput {
			continue
		}
		old, both := outputs[r.Output]
		delete(outputs, r.Output)
		switch {
		case !both:
			c.Added = append(c.Added, r.Output)
		case old.Unit != r.Unit:
			c.Notes = append(c.Notes, fmt.Sprintf("%s was in %s and is in %s now: it is not compared.", r.Output, old.Unit, r.Unit))
		default:
			c.Outputs = append(c.Outputs, Output{Name: r.Output, Unit: r.Unit, Before: spread(old), After: spread(r),
				Middle: change(old.P50, r.P50), Mean: change(old.Mean, r.Mean), Width: change(old.P95-old.P05, r.P95-r.P05)})
		}
	}
	for _, x := range a.answer.Claims {
		if _, gone := claims[x.Name]; gone {
			c.Gone = append(c.Gone, x.Name)
		}
	}
	for i := range a.summary {
		if outputs[a.summary[i].Output] != nil && !slices.Contains(c.Gone, a.summary[i].Output) {
			c.Gone = append(c.Gone, a.summary[i].Output)
		}
	}
}

// next is what helps a claim most to measure, "" if nothing is shown to.
func next(f *folder, claim string) string {
	if m := f.answer.Next(claim); m != nil {
		if helping := m.Helping(); len(helping) > 0 {
			return helping[0].Named()
		}
	}
	return ""
}

// mixed is what all rival accounts mixed make of a claim, "" where there are none.
func mixed(f *folder, claim string) string {
	if c := f.answer.Accounts.Of(claim); c != nil {
		return c.Mixed.Frequency
	}
	return ""
}

// needs is where a claim turns, in words, "" if that is not told.
func needs(a *report.Answer, claim string) string {
	if r := a.Required(claim); r != nil {
		return r.InWords()
	}
	return ""
}

func spread(r *result.SummaryRow) report.Spread {
	return report.Spread{Unit: r.Unit, P05: report.Known(r.P05), P50: report.Known(r.P50), P95: report.Known(r.P95)}
}

func change(before, after float64) Change {
	return Change{Before: report.Known(before), After: report.Known(after), By: report.Known(after - before), Causes: []Cause{}}
}

// sameTogether leaves out the chance of all claims together where the two results do not
// have the same claims: it is of other things in each.
func (c *Comparison) sameTogether(a, b *folder) {
	names := func(f *folder) []string {
		var all []string
		for _, x := range f.answer.Claims {
			if !x.Together() {
				all = append(all, x.Name)
			}
		}
		slices.Sort(all)
		return all
	}
	if slices.Equal(names(a), names(b)) {
		return
	}
	together := func(x Claim) bool { return x.After.Together() }
	if slices.ContainsFunc(c.Claims, together) && len(c.Claims) > 1 {
		c.Notes = append(c.Notes, "The chance of all claims together is not compared: the two results do not have the same claims.")
	}
	c.Claims = slices.DeleteFunc(c.Claims, together)
}
