package study

import (
	"proofmass/jobs/study/source"
	"proofmass/sampling/design"
)

const (
	// firstRound has 1,024 rows a replicate, 51 of them below the 5th percentile:
	// enough for an interval from the replicates.
	firstRound = 16_384
	// mostRounds keeps the number of rounds to what a folder can hold and name.
	mostRounds = 1000
	// leastAtMost is the least at_most: fewer rows give no interval.
	leastAtMost = 512
)

// growth reads how well chances and percentiles are wanted.
func (r *reader) growth(v source.Field, rows bool, width, most *source.Field) {
	const form = "half_width: {chance: 0.005, percentiles: 0.3 %} and at_most stand together, without rows"
	switch {
	case rows:
		v.Err("rows beside half_width or at_most", "the rows follow from the half-width: "+form)
		return
	case width == nil || most == nil:
		v.Err("half_width or at_most alone", form)
		return
	case r.s.Design == "latin_low_correlation":
		v.Err("half_width with the design latin_low_correlation", "that design is for small runs of fixed rows; any other can grow")
		return
	}
	g := &r.s.Stopping
	before := r.errs.Count()
	source.Handlers{
		"chance": func(f source.Field) {
			if len(r.claims)+len(r.badClaims) == 0 {
				f.Err("no claims", "chance is the half-width of the claims' chances")
			}
			g.Chance, _ = share(f, "chance", 0.0001, 0.5)
		},
		"percentiles": func(f source.Field) { g.Percentiles, _ = share(f, "percentiles", 0.0001, 0.5) },
	}.Read(*width, "half_width")
	if g.Chance == 0 && g.Percentiles == 0 && r.errs.Count() == before {
		width.Err("no half-width", form)
	}
	n, ok := count(*most, "at_most", leastAtMost, MostRows)
	if !ok || r.errs.Count() > before {
		*g = Stopping{}
		return
	}
	g.AtMost = n
	r.s.Rows = roundSize(r.s.Design, n)
	r.s.RowsNote = ""
}

// roundSize is the rows of each round: a power of two, small enough for the rows
// allowed, large enough for them to be reached in a thousand rounds.
func roundSize(name string, most int) int {
	size := firstRound
	for size*mostRounds < most {
		size *= 2
	}
	for size > most {
		size /= 2
	}
	if rounded, err := design.RoundRows(name, size); err == nil {
		size = rounded // a power of two of at least 512 suits every design as it is
	}
	return size
}
