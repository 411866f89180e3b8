package report

import (
	"math"

	"proofmass/jobs/result"
	"proofmass/model/unit"
)

// Names of what the summary table says about the whole study, beside its rows.
const (
	MetaAbout          = "study.about"
	MetaModel          = "study.model" // vehicle or formulas
	MetaDesign         = "study.design"
	MetaBaseline       = "study.baseline"
	MetaNote           = "study.note"
	MetaLeftOut        = "study.left_out"    // JSON: [{output, why}]
	MetaTied           = "study.tied"        // JSON: [{input, other, wanted, achieved}]
	MetaChance         = "study.chance"      // half-width of chances, as asked for
	MetaPercentiles    = "study.percentiles" // the same of percentiles, a share of p95 - p05
	MetaHalfWidth      = "study.half_width"  // of indices, as asked for
	MetaHeadline       = "study.headline"    // JSON: [quantity], those that an answer opens with
	MetaSilent         = "study.silent"      // JSON: [quantity], stored for what they warn of and not for their size
	MetaBelowNil       = "study.below_nil"   // JSON: {quantity: what it means that it is negative}
	MetaContradictions = "contradictions"    // JSON: [{name, text, share, claims}], what cannot be so in a share of the draws
	MetaSlips          = "slips"             // JSON: [{name, text, claims}], odd values that a slip would explain
	MetaOdd            = "study.odd"         // how many of the warnings, the first ones, are of an odd size
	MetaWarnings       = "study.warnings"    // JSON: [text]
	MetaWithdrawn      = "study.withdrawn"   // JSON: [{name, stated_as, how_known, source, why}], what no longer counts
	MetaHistory        = "study.history"     // JSON: [{of, on, what, why}], the study's own first
	MetaShowIn         = "study.show_in"     // JSON: [{of, in}], units in which numbers are shown, in place of those of the tables
	MetaFiguresLeftOut = "figures_left_out"  // of the indices, JSON: [text], what a budget of time left out
)

// Known is nil for null, and for what JSON has no number for.
func Known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// OrNull is what Known was made of; NaN stands for null in a table.
func OrNull(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}

func spread(r *result.SummaryRow) Spread {
	return Spread{Unit: r.Unit, P05: Known(r.P05), P50: Known(r.P50), P95: Known(r.P95)}
}

// in converts a spread to another unit, that of an announcement; it stays as it is
// where that unit says nothing or another dimension.
func (s Spread) in(text string) Spread {
	from, err := unit.Parse(s.Unit)
	to, errTo := unit.Parse(text)
	if err != nil || errTo != nil || from.Dimension() != to.Dimension() || s.Unit == text {
		return s
	}
	convert := func(x float64) float64 { return to.FromSI(from.ToSI(x)) }
	return Spread{Unit: text, P05: Converted(s.P05, convert), P50: Converted(s.P50, convert), P95: Converted(s.P95, convert)}
}
