package plan

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"proofmass/jobs/study"
	"proofmass/sampling/design"
)

// Purposes of draws: the sample's rows, and the two designs of the index rows.
const (
	PurposeSample = "sample"
	PurposeA      = "index A"
	PurposeB      = "index B"
)

func (p *Plan) planSample() error {
	s := p.Study
	var err error
	if p.Design, err = design.New(s.Design, s.Seed, s.Rows, p.designColumns(PurposeSample)); err != nil {
		return p.designError(err, "choose another design, or fewer inputs")
	}
	p.Sample = newRound(0, Sample, s.Rows, p.Design.Replicates())
	return nil
}

// designError is that of a design that cannot take the inputs, at its place in the study.
func (p *Plan) designError(err error, allowed string) error {
	return study.Errors{{Place: p.Study.DesignPlace, Field: "sample.design", Found: err.Error(), Allowed: allowed}}
}

// SampleRound is round number of the sample, each as large as the first.
func (p *Plan) SampleRound(number int) Round {
	r := p.Sample
	r.Number, r.FirstRow, r.FirstReplicate = number, number*r.Rows, number*r.Replicates
	return r
}

// MostRounds is how many rounds of the sample the study allows.
func (p *Plan) MostRounds() int { return max(1, p.Study.Stopping.AtMost/p.Sample.Rows) }

// indexDesignName is the study's design, but latin where that one needs all rows
// at once: there are too many, and at their number latin has no correlation that
// matters.
func (p *Plan) indexDesignName() string {
	if p.Study.Design == "latin_low_correlation" {
		return "latin"
	}
	return p.Study.Design
}

func (p *Plan) indexDesign(rows int) (design.Design, error) {
	d, err := design.New(p.indexDesignName(), p.Study.Seed, rows, p.designColumns(PurposeA, PurposeB))
	if err != nil {
		return nil, p.designError(err, "choose another design, or fewer inputs; with indices: none the design has the sample alone to serve")
	}
	return d, nil
}

// roundIndexRows is the fewest rows, a like number in each replicate, that the
// design of the indices takes and that are no fewer than rows.
func (p *Plan) roundIndexRows(rows int) int {
	if powersOfTwo(p.indexDesignName()) {
		return Replicates << bits.Len(uint((rows-1)/Replicates))
	}
	return (rows + Replicates - 1) / Replicates * Replicates
}

// mostIndexRows is the most rows that it takes and that are no more than rows.
func (p *Plan) mostIndexRows(rows int) int {
	each := rows / Replicates
	if each > 0 && powersOfTwo(p.indexDesignName()) {
		each = 1 << (bits.Len(uint(each)) - 1)
	}
	return each * Replicates
}

func powersOfTwo(design string) bool { return design == "sobol" || design == "halton" }

// designColumns are the sampled inputs in the order of the study, for each purpose
// in turn. Designs that number their columns give the first ones the best points.
func (p *Plan) designColumns(purposes ...string) []design.Column {
	order := slices.Clone(p.order)
	for i := range p.Drawn { // what no stored column shows
		if p.Drawn[i].Choice == 0 && !slices.Contains(order, i) {
			order = append(order, i)
		}
	}
	var columns []design.Column
	for _, purpose := range purposes {
		for _, i := range order {
			columns = append(columns, design.Column{Purpose: purpose, Name: p.Drawn[i].Name})
		}
	}
	return columns
}

// Note says what a reader of the rows and the design's name could not know, "" if
// nothing: rows rounded up, dimensions by position, another design for indices. It has no full stop at its end.
func (p *Plan) Note() string {
	var notes []string
	if p.Study.RowsNote != "" {
		notes = append(notes, p.Study.RowsNote)
	}
	switch d := p.Study.Design; d {
	case "sobol", "halton":
		notes = append(notes, "Dimensions of the "+d+" design go by the inputs' position in the study: the first are spread best, and an input added in front changes the draws of those behind it")
	case "latin_low_correlation":
		if p.Index.Rows > 0 {
			notes = append(notes, "The rows for indices are too many to be made all at once: their design is latin")
		}
	}
	return strings.Join(notes, ". ")
}

// poorlySpread tells of more inputs than a halton design is good for.
func (p *Plan) poorlySpread() []string {
	if p.Study.Design != "halton" || len(p.Drawn) <= haltonInputs {
		return nil
	}
	return []string{fmt.Sprintf("A halton design spreads more than about %d inputs poorly, and there are %d: sobol or latin do better (common practice, no source).", haltonInputs, len(p.Drawn))}
}

// haltonInputs: beyond, the bases are large beside the rows of a replicate.
const haltonInputs = 20
