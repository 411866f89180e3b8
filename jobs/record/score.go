package record

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/design"
	"proofmass/sampling/portable"
	"proofmass/sensitivity/score"
)

// nineInTen is the share of draws between p05 and p95, and halfOfNormal half the width of that
// interval of a normal in its standard deviations.
const (
	nineInTen    = 0.90
	halfOfNormal = 1.6448536269514722
)

// Kinds of what has an outcome.
const kindQuantity, kindClaim = "quantity", "claim"

// score is a line against what the folder foretold; nil after a mistake of the line.
func (f *folder) score(o *outcome, wrong *source.Collector) (*Outcome, error) {
	s := &Outcome{Folder: f.path, Study: o.study, Name: o.name, On: o.on, Came: f.came(o.on)}
	if c := f.claim(o.name); c != nil {
		return f.scoreClaim(s, o, c, wrong), nil
	}
	row := f.summary[o.name]
	if row == nil {
		allowed := "there are " + report.FewNames(strings.Join(f.names, ", "), "summary.parquet")
		if near := source.Nearest(o.name, f.names); near != "" {
			allowed = "did you mean " + near + "?"
		}
		wrong.Add(source.Error{Place: o.places["name"], Field: "name", Found: source.Quote(o.name), Allowed: allowed})
		return nil, nil
	}
	scale, ok := inUnit(o, row, wrong)
	if !ok {
		return nil, nil
	}
	draws, weights, err := f.draws(row)
	if err != nil {
		wrong.Add(source.Error{Place: o.places["name"], Field: "name", Found: source.Quote(o.name), Allowed: err.Error()})
		return nil, nil
	}
	s.Kind, s.Unit, s.Value = kindQuantity, row.Unit, scale.value(o.value)
	sd := scale.width(o.sd)
	if o.sd > 0 {
		s.SD = &sd
	}
	s.against(draws, weights, sd, design.NewKey(1, "error of the measurement", o.study, o.name))
	s.rival(o, scale, sd, draws, weights)
	f.announced(s, sd)
	return s, nil
}

// came says whether the prediction came before the day of the measurement.
func (f *folder) came(on string) string {
	switch made := f.facts.Ended.UTC().Format("2006-01-02"); {
	case on == "":
		return Unknown
	case made < on:
		return First
	}
	return Late
}

// against scores draws to which the error of the measurement is added, a normal a draw by its
// number.
func (s *Outcome) against(draws, weights []float64, sd float64, key design.Key) {
	if sd > 0 {
		draws = slices.Clone(draws)
		for i := range draws {
			draws[i] += float64(sd * portable.NormalQuantile(key.Unit(uint64(i))))
		}
	}
	foretold := score.New(draws, weights)
	if foretold.Draws() == 0 {
		return
	}
	p05, p95 := foretold.Percentile(0.05), foretold.Percentile(0.95)
	inside := p05 <= s.Value && s.Value <= p95
	s.P05, s.P50, s.P95, s.Inside = &p05, report.Known(foretold.Percentile(0.5)), &p95, &inside
	s.Place, s.CRPS = report.Known(foretold.Place(s.Value)), report.Known(foretold.CRPS(s.Value))
	s.Interval = report.Known(score.Interval(p05, p95, nineInTen, s.Value))
}

// rival scores a plain guess beside it: a normal, or a bare number.
func (s *Outcome) rival(o *outcome, scale scale, sd float64, draws, weights []float64) {
	if o.guess == nil {
		return
	}
	guess, width := scale.value(*o.guess), scale.width(o.guessSD)
	s.Guess, s.GuessScore = &guess, report.Known(score.Normal(guess, hypot(width, sd), s.Value))
	if o.guessSD == 0 {
		return
	}
	s.GuessSD = &width
	if f := score.New(draws, weights); f.Draws() > 0 {
		s.Sharper = report.Known((f.Percentile(0.95) - f.Percentile(0.05)) / (2 * halfOfNormal * width))
	}
}

// announced scores the announcement of the quantity itself, taken at its word.
func (f *folder) announced(s *Outcome, sd float64) {
	for i := range f.claims {
		c := &f.claims[i]
		if c.Of != s.Name || c.Announced != c.Announced {
			continue
		}
		from, err := unit.Parse(c.AnnouncedIn)
		if err != nil {
			continue
		}
		to, err := unit.Parse(s.Unit)
		if err != nil || to.Dimension() != from.Dimension() {
			continue
		}
		said := scale{from, to}.value(c.Announced)
		s.Announced, s.AnnouncedScore = &said, report.Known(score.Normal(said, sd, s.Value))
		return
	}
}

// scoreClaim scores the chance of a claim against whether it held.
func (f *folder) scoreClaim(s *Outcome, o *outcome, c *result.ClaimRow, wrong *source.Collector) *Outcome {
	refuse := func(column, found, allowed string) *Outcome {
		wrong.Add(source.Error{Place: o.places[column], Field: column, Found: found, Allowed: allowed})
		return nil
	}
	switch {
	case o.value != 0 && o.value != 1:
		return refuse("value", report.Short(o.value)+" of a claim", "1: it held, or 0: it did not")
	case o.sd != 0:
		return refuse("sd", report.Short(o.sd)+" of a claim", "a claim held or did not; leave it empty")
	case o.unit != "" && o.unit != "1":
		return refuse("unit", source.Quote(o.unit)+" of a claim", "a claim has none; leave it empty")
	case o.guess != nil && (*o.guess < 0 || *o.guess > 1):
		return refuse("guess", report.Short(*o.guess)+" of a claim", "a chance from 0 to 1")
	case o.guessSD != 0:
		return refuse("guess_sd", report.Short(o.guessSD)+" of a claim", "a chance has none; leave it empty")
	}
	s.Kind, s.Unit, s.Value = kindClaim, "1", o.value
	s.Chance = report.Known(c.Chance)
	if s.Chance != nil {
		s.Brier = report.Known(square(c.Chance - o.value))
	}
	if o.guess != nil {
		s.Guess, s.GuessScore = o.guess, report.Known(square(*o.guess-o.value))
	}
	return s
}

// draws are the stored ones of a quantity, and their weights where they have some.
func (f *folder) draws(row *result.SummaryRow) (draws, weights []float64, err error) {
	column := strings.ReplaceAll(row.Output, ".", "_")
	if f.samples.Rows() == 0 || !slices.Contains(f.samples.Names(), column) {
		return nil, nil, fmt.Errorf("%s kept no draws of it; run its study without keep: summary", f.facts.Folder)
	}
	if draws, err = f.samples.Read(column, nil); err != nil {
		return nil, nil, err
	}
	if slices.Contains(f.samples.Names(), "weight") {
		weights, err = f.samples.Read("weight", nil)
	}
	return draws, weights, err
}

// A scale changes the unit of an outcome into that of the table.
type scale struct{ from, to unit.Unit }

func (s scale) value(x float64) float64 { return s.to.FromSI(s.from.ToSI(x)) }
func (s scale) width(x float64) float64 { return s.to.DeltaFromSI(s.from.DeltaToSI(x)) }

// inUnit is the change of unit of a line; a missing unit is never guessed.
func inUnit(o *outcome, row *result.SummaryRow, wrong *source.Collector) (scale, bool) {
	refuse := func(found string) (scale, bool) {
		wrong.Add(source.Error{Place: o.places["unit"], Field: "unit", Found: found, Allowed: fmt.Sprintf("%s is in %s; a unit of that kind is allowed", o.name, row.Unit)})
		return scale{}, false
	}
	if o.unit == "" {
		return refuse("nothing")
	}
	from, err := unit.Parse(o.unit)
	if err != nil {
		return refuse(source.Quote(o.unit))
	}
	to, err := unit.Parse(row.Unit)
	switch {
	case err != nil:
		return refuse(source.Quote(o.unit))
	case from.Dimension() != to.Dimension() || from.Currency() != to.Currency():
		return refuse(source.Quote(o.unit))
	}
	return scale{from, to}, true
}
