package result

import (
	"path/filepath"

	"proofmass/jobs/files"
)

// The tables, each declared once.
var (
	Claims   = declare[ClaimRow](ClaimsTable, "a claim, and one for all of them together")
	Summary  = declare[SummaryRow](SummaryTable, "an input or output, or what samples store of a claim")
	Indices  = declare[IndexRow](IndicesTable, "a figure of sensitivity: of an output or a claim, and an input")
	Tornado  = declare[BarRow](TornadoTable, "what an input does to an output")
	Curves   = declare[CurveRow](CurvesTable, "the mean of an output in one class of an input")
	Regions  = declare[RegionRow](RegionsTable, "an input where a claim holds and where it fails")
	Joint    = declare[JointRow](JointTable, "a claim in the draws where another one holds")
	Readings = declare[ReadingRow](ReadingsTable, "a claim in one combination of what the claims could mean, or all of them in it")
	Rare     = declare[RareRow](RareTable, "a level on the way to a claim that next to no draw holds, or fails")
	Causes   = declare[CauseRow](CausesTable, "a cause of what a candidate gains over the baseline, or a part of one")
	Levers   = declare[LeverRow](LeversTable, "what a unit of something changed in a vehicle does to an output")
	Requires = declare[RequiredRow](RequiresTable, "an input at the most probable point at which a claim turns, and where it alone turns it")
	Measure  = declare[MeasureRow](MeasureTable, "what one would learn, and what it is worth to a claim")
	Inside   = declare[InsideRow](InsideTable, "what is between a vehicle's inputs and what was asked of it")
	Index    = declare[StudyRow](IndexTable, "a claim of one of many studies that were run at once, or a study without one")
)

// Describe describes every table, in the order in which a reader meets them.
func Describe() []Description {
	return []Description{Claims.describe(), Summary.describe(), Indices.describe(), Tornado.describe(), Curves.describe(), Regions.describe(), Joint.describe(), Readings.describe(), Rare.describe(), Evidence.describe(), Earlier.Claims.describe(), Earlier.Summary.describe(), describeTempered(), Causes.describe(), Levers.describe(), Requires.describe(), Measure.describe(), Inside.describe(), describeChoices(), Accounts.describe(), AccountClaims.describe(), AccountOutputs.describe()}
}

// DescribeIndex describes the table that stands beside many results.
func DescribeIndex() Description { return Index.describe() }

// A ClaimRow is a row of claims.parquet.
type ClaimRow struct {
	Choice        int64        `column:"choice" meaning:"number of the choice, 0 without choices"`
	Claim         string       `column:"claim" meaning:"name of the claim; all_claims: all of them in the same draw"`
	Text          string       `column:"text" meaning:"the condition that was tested"`
	Chance        float64      `column:"chance" unit:"1" meaning:"share of the draws in which it holds, given these inputs and this model, weighted by what was measured; an infeasible draw does not hold"`
	ChanceLow     float64      `column:"chance_low" unit:"1" meaning:"lower end of the interval of the chance, which is sampling error alone: what more draws would change"`
	ChanceHigh    float64      `column:"chance_high" unit:"1" meaning:"upper end of the interval of the chance, which is sampling error alone: what more draws would change"`
	Method        ChanceMethod `column:"method" meaning:"how the interval was made"`
	Held          int64        `column:"held" meaning:"draws in which it holds"`
	Failed        int64        `column:"failed" meaning:"draws in which it fails"`
	Infeasible    int64        `column:"infeasible" meaning:"draws in which it can not be said"`
	Rows          int64        `column:"rows" meaning:"all draws"`
	EffectiveRows float64      `column:"effective_rows" unit:"1" meaning:"independent draws that would tell as much"`
	MarginP05     float64      `column:"margin_p05" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	MarginP50     float64      `column:"margin_p50" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	MarginP95     float64      `column:"margin_p95" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	Unit          string       `column:"unit" meaning:"unit of the margins"`
	Of            string       `column:"of" meaning:"the quantity that was announced, empty for a condition of the study's own"`
	AnnouncedIn   string       `column:"announced_in" meaning:"unit of the announcement"`
	Announced     float64      `column:"announced" unit:"announced_in of the row" meaning:"what was announced; null for a condition of the study's own"`
	RoundedTo     float64      `column:"rounded_to" unit:"announced_in of the row" meaning:"what the announcement is rounded to; null where the study does not say"`
	Sense         Sense        `column:"sense,optional" meaning:"how the announcement is meant, empty for a condition of the study's own"`
	Limit         float64      `column:"limit" unit:"announced_in of the row" meaning:"what was tested: the announcement less, or with, half of what it is rounded to; null for about and for a condition of the study's own"`
	Side          Side         `column:"side,optional" meaning:"where the claim holds: above or below the limit, or within half of rounded_to of what was announced"`
	Halved        float64      `column:"chance_halved" unit:"1" meaning:"chance with all guessed widths halved, by draws of their own; null where it rests on none"`
	Doubled       float64      `column:"chance_doubled" unit:"1" meaning:"chance with all guessed widths doubled, by draws of their own; null where it rests on none"`
	Guesses       int64        `column:"guessed_widths" meaning:"inputs that it rests on of which the width is a guess: known by guess, rule or announcement, not said how, or a default by judgement"`
	Defaults      int64        `column:"defaults" meaning:"uncertain inputs that it rests on which the catalogue supplied"`
	WidthRows     int64        `column:"width_rows" meaning:"draws of each of the two, 0 where there are none"`
	Verdict       Verdict      `column:"verdict" meaning:"from the chance and its interval, which is sampling error alone"`
	SaidBy        string       `column:"said_by" meaning:"who said so"`
	Source        string       `column:"source" meaning:"where the claim was found"`
}

// A SummaryRow is a row of summary.parquet.
type SummaryRow struct {
	Choice   int64  `column:"choice" meaning:"number of the choice, 0 without choices"`
	Output   string `column:"output" meaning:"full name of the input or output"`
	Vehicle  string `column:"vehicle" meaning:"its vehicle, empty for what belongs to none"`
	Quantity string `column:"quantity" meaning:"the part of the name behind the vehicle"`
	Unit     string `column:"unit" meaning:"unit of every value in the row; sd of a degC row is in K"`

	Rows       int64 `column:"rows" meaning:"rows evaluated"`
	Infeasible int64 `column:"infeasible" meaning:"rows without a value; all statistics are over the others"`

	Mean     float64 `column:"mean" unit:"unit of the row" meaning:"mean"`
	MeanLow  float64 `column:"mean_low" unit:"unit of the row" meaning:"lower end of the interval of mean"`
	MeanHigh float64 `column:"mean_high" unit:"unit of the row" meaning:"upper end of the interval of mean"`
	SD       float64 `column:"sd" unit:"unit of the row" meaning:"standard deviation, divisor n - 1"`
	Skewness float64 `column:"skewness" unit:"1" meaning:"skewness, null for a constant"`
	Min      float64 `column:"min" unit:"unit of the row" meaning:"smallest value"`
	Max      float64 `column:"max" unit:"unit of the row" meaning:"largest value"`

	P01 float64 `column:"p01" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P05 float64 `column:"p05" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P10 float64 `column:"p10" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P25 float64 `column:"p25" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P50 float64 `column:"p50" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P75 float64 `column:"p75" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P90 float64 `column:"p90" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P95 float64 `column:"p95" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P99 float64 `column:"p99" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`

	P05Low  float64 `column:"p05_low" unit:"unit of the row" meaning:"lower end of the interval of p05"`
	P05High float64 `column:"p05_high" unit:"unit of the row" meaning:"upper end of the interval of p05"`
	P50Low  float64 `column:"p50_low" unit:"unit of the row" meaning:"lower end of the interval of p50"`
	P50High float64 `column:"p50_high" unit:"unit of the row" meaning:"upper end of the interval of p50"`
	P95Low  float64 `column:"p95_low" unit:"unit of the row" meaning:"lower end of the interval of p95"`
	P95High float64 `column:"p95_high" unit:"unit of the row" meaning:"upper end of the interval of p95"`

	Coverage     float64        `column:"coverage" unit:"1" meaning:"share of the rows within the coverage intervals"`
	CoverLow     float64        `column:"cover_low" unit:"unit of the row" meaning:"coverage interval with equal tails, JCGM 101:2008, 7.7"`
	CoverHigh    float64        `column:"cover_high" unit:"unit of the row" meaning:"its upper end"`
	ShortestLow  float64        `column:"shortest_low" unit:"unit of the row" meaning:"shortest coverage interval, JCGM 101:2008, 7.7"`
	ShortestHigh float64        `column:"shortest_high" unit:"unit of the row" meaning:"its upper end"`
	Method       IntervalMethod `column:"method" meaning:"how the intervals were made"`
	Negative     int64          `column:"negative" meaning:"rows with a value below zero"`

	Role     Role   `column:"role" meaning:"input (drawn), constant, formula, output, intermediate (kept, not asked for) or claim"`
	Origin   Origin `column:"origin" meaning:"stated in the study, default of the catalogue, or computed"`
	HowKnown string `column:"how_known" meaning:"how the study says it is known"`
	StatedAs string `column:"stated_as" meaning:"the input as it is written"`
	Source   string `column:"source" meaning:"where the number or the relation comes from"`
	Meaning  string `column:"meaning" meaning:"what the row is"`
}

// A StudyRow is a row of index.parquet.
type StudyRow struct {
	Folder  string  `column:"folder" meaning:"folder of the study's result, inside that of the table"`
	File    string  `column:"file" meaning:"the study's file as it was named"`
	Study   string  `column:"study" meaning:"name of the study, empty where it failed"`
	Fault   string  `column:"error" meaning:"why it has no result, else empty"`
	Rows    int64   `column:"rows" meaning:"all draws, 0 where it failed"`
	Seed    string  `column:"seed" meaning:"seed of the draws, in digits"`
	Claim   string  `column:"claim" meaning:"name of the claim, as in claims.parquet; empty for a study that has none"`
	Text    string  `column:"text" meaning:"the condition that was tested"`
	Verdict Verdict `column:"verdict,optional" meaning:"from the chance and its interval, which is sampling error alone"`
	Chance  float64 `column:"chance" unit:"1" meaning:"share of the draws in which it holds; an infeasible draw does not hold"`
	Low     float64 `column:"chance_low" unit:"1" meaning:"lower end of the interval of the chance, which is sampling error alone"`
	High    float64 `column:"chance_high" unit:"1" meaning:"upper end of the interval of the chance, which is sampling error alone"`
}

// WriteIndex writes index.parquet into a folder that holds those of many results.
func WriteIndex(system files.System, folder string, rows []StudyRow) error {
	_, err := writeTable(system, filepath.Join(folder, IndexTable), Index.Make(rows, nil))
	return err
}
