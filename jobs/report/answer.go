// Package report reads a result folder and says what it answers: to a person at a
// terminal, and to machines as JSON.
//
// It reads nothing but the folder, so that an answer can be told again years
// later, and estimates nothing: every figure stands in a table.
package report

import (
	"encoding/json"
	"strings"

	"proofmass/jobs/result"
)

// An Answer is what a result folder says, in the order in which a reader asks:
// do the claims hold, how large are things, what decides it, what was assumed,
// what to beware of.
type Answer struct {
	Study string `json:"study"`
	About string `json:"about,omitempty"`
	Run   Run    `json:"run"`

	Contradictions []Contradiction `json:"contradictions"` // of the study with itself: stand before any verdict

	Choices *Choices `json:"choices,omitempty"` // what the designer decides; the rest is then of one choice

	Claims   []Claim    `json:"claims"`
	Evidence *Evidence  `json:"evidence,omitempty"` // what was measured; nil: nothing
	Accounts *Accounts  `json:"accounts,omitempty"` // rival ones; the rest is of the first; nil: there are none
	Sizes    []Size     `json:"sizes"`
	Readings *Readings  `json:"readings,omitempty"` // what the claims could mean
	Rare     []Rare     `json:"rare,omitempty"`     // claims that next to no draw holds, or fails
	Joint    []Joint    `json:"joint,omitempty"`    // claims in pairs
	Gains    []Gain     `json:"gains,omitempty"`    // what makes the difference of a candidate
	Levers   []Lever    `json:"levers,omitempty"`   // what a unit of something does
	Requires []Required `json:"requires,omitempty"` // where claims turn
	Measure  []Measure  `json:"measure_next,omitempty"`
	Decides  []Decides  `json:"decides"`
	Assumed  Assumed    `json:"assumed"`
	Cautions []string   `json:"cautions"`

	Withdrawn []Withdrawn `json:"withdrawn,omitempty"` // what no longer counts, and why
	History   []Event     `json:"history,omitempty"`   // of the study, as it tells it

	Odd      int      `json:"-"` // how many of the cautions, the first ones, are of an odd size
	Headline []string `json:"-"` // the quantities that come first

	shown *Answer // in the units that people are shown; nil: the same
}

// Run is how the figures were made.
type Run struct {
	Rows             int64     `json:"rows"`
	Seed             uint64    `json:"seed"`
	Design           string    `json:"design"`
	IndexRuns        int64     `json:"index_runs"`
	HalfWidthAsked   *float64  `json:"half_width_asked"`
	HalfWidthReached *float64  `json:"half_width_reached"` // of first and total indices of outputs
	SharesKnownTo    *float64  `json:"shares_known_to"`    // widest half-width of the shares by which outputs' inputs are ranked
	Note             string    `json:"note,omitempty"`
	Stopping         *Stopping `json:"growth,omitempty"` // of a sample that grew
	PairsLeftOut     int       `json:"pairs_left_out,omitempty"`
	Reduced          *Reduced  `json:"reduced_schedules,omitempty"` // nil: all steps of every schedule
}

// Reduced tells of a run whose cars were driven over fewer steps, with weights.
type Reduced struct {
	*result.Reduced
}

// Stopping is how well chances and percentiles were wanted and are known: half-widths,
// those of percentiles as a share of p95 - p05; nil is not asked for, or not known.
type Stopping struct {
	Rounds             int      `json:"rounds"`
	ChanceAsked        *float64 `json:"chance_asked"`
	ChanceReached      *float64 `json:"chance_reached"`
	PercentilesAsked   *float64 `json:"percentiles_asked"`
	PercentilesReached *float64 `json:"percentiles_reached"`
}

// Reached reports whether all that was asked for is.
func (g *Stopping) Reached() bool {
	return within(g.ChanceReached, g.ChanceAsked) && within(g.PercentilesReached, g.PercentilesAsked)
}

func within(reached, asked *float64) bool {
	return asked == nil || reached != nil && *reached <= *asked
}

// A Contradiction is what cannot be so, alone or together, in a share of the draws that
// were looked at, and the claims that rest on it.
type Contradiction struct {
	Name   string   `json:"name"`
	Text   string   `json:"text"`
	Share  float64  `json:"share"`
	Claims []string `json:"claims"`
}

// Told is the contradiction in words, with the claims that rest on it.
func (c Contradiction) Told() string {
	text := c.Text
	if len(c.Claims) > 0 {
		text += "; on it rests " + strings.Join(c.Claims, ", ")
	}
	return text + "."
}

// A Claim is one claim's chance in figures and words.
type Claim struct {
	Name      string         `json:"claim"`
	Text      string         `json:"text"`
	Of        string         `json:"of,omitempty"`
	SaidBy    string         `json:"said_by,omitempty"`
	Verdict   result.Verdict `json:"verdict"` // of the table: told nowhere anew
	Frequency string         `json:"frequency"`
	Chance    float64        `json:"chance"`
	Halved    *float64       `json:"chance_halved"`  // with all guessed widths halved; null: it rests on none
	Doubled   *float64       `json:"chance_doubled"` // with all guessed widths doubled
	Guesses   int64          `json:"guessed_widths"` // inputs that it rests on whose width is a guess
	Defaults  int64          `json:"defaults"`       // uncertain inputs that it rests on which the catalogue supplied
	WidthRows int64          `json:"width_rows"`     // draws behind each of the two
	Low       *float64       `json:"chance_low"`     // an end of the interval, which is sampling error alone
	High      *float64       `json:"chance_high"`
	Method    string         `json:"method"`

	OddInputs []string `json:"odd_inputs,omitempty"` // that it rests on: likely slips, in words

	Held       int64 `json:"held"`
	Failed     int64 `json:"failed"`
	Infeasible int64 `json:"infeasible"`
	Rows       int64 `json:"rows"`

	// Of an announced value: as it was said, and the limit that was tested, in its unit.
	Announced *float64     `json:"announced,omitempty"`
	RoundedTo *float64     `json:"rounded_to,omitempty"`
	Limit     *float64     `json:"limit,omitempty"`
	Sense     result.Sense `json:"sense,omitempty"`
	Side      result.Side  `json:"side,omitempty"`
	Unit      string       `json:"announced_in,omitempty"`

	Seen      *Spread   `json:"seen,omitempty"`       // the announced quantity in the draws
	HangsOn   string    `json:"hangs_on,omitempty"`   // what decides it, in words
	DecidedOf result.Of `json:"decided_of,omitempty"` // of which the words are: holds, margin

	Where []Where `json:"where,omitempty"` // inputs that differ where it holds and where it fails, most first
}

// Where is an input where a claim holds and where it fails: the range of 8 in 10 of
// the draws, and their distance.
type Where struct {
	Input    string   `json:"input"`
	Unit     string   `json:"unit"`
	HoldsLow *float64 `json:"holds_p10"`
	HoldsMid *float64 `json:"holds_p50"`
	HoldsTop *float64 `json:"holds_p90"`
	FailsLow *float64 `json:"fails_p10"`
	FailsMid *float64 `json:"fails_p50"`
	FailsTop *float64 `json:"fails_p90"`
	Distance *float64 `json:"distance"`
	Low      *float64 `json:"distance_low"`
	High     *float64 `json:"distance_high"`
}

// A Spread is the middle of the draws and the range that holds 90 % of them.
type Spread struct {
	Unit string   `json:"unit"`
	P05  *float64 `json:"p05"`
	P50  *float64 `json:"p50"`
	P95  *float64 `json:"p95"`
}

// A Size is one output.
type Size struct {
	Name       string `json:"output"`
	Vehicle    string `json:"vehicle,omitempty"`
	Quantity   string `json:"quantity"`
	Infeasible int64  `json:"infeasible"`
	Constant   bool   `json:"constant"` // the same in every draw
	Silent     bool   `json:"-"`        // stored for what it warns of, not for its size
	Spread
}

// Decides is what an output, or a claim, depends on, the largest first.
type Decides struct {
	Output string      `json:"output"` // or the claim
	Of     result.Of   `json:"of"`
	Claims []string    `json:"claims,omitempty"` // made of this output
	Unit   string      `json:"unit"`
	Inputs []Share     `json:"inputs"`
	Groups []Share     `json:"groups,omitempty"`
	Pairs  []PairShare `json:"pairs,omitempty"`
	Swings *float64    `json:"sum_of_swings"` // sizes of all swings together, each input moved alone
	Spread *float64    `json:"spread"`        // p95 - p05 of the draws
}

// A Share is what one input does to one output.
type Share struct {
	Input string       `json:"input"`
	Unit  string       `json:"unit"`
	Order result.Order `json:"order,omitempty"` // what Share is: total, shapley, first, first_with_companions, group_total
	Share *float64     `json:"share"`
	Low   *float64     `json:"share_low"`
	High  *float64     `json:"share_high"`
	First *float64     `json:"first"`

	Form   result.Form `json:"form,omitempty"` // of the ends
	InLow  *float64    `json:"input_low"`
	InHigh *float64    `json:"input_high"`
	AtLow  *float64    `json:"at_low"`
	AtHigh *float64    `json:"at_high"`
	Turns  bool        `json:"turns"` // the output goes up and down over the input's range
}

// A PairShare is what two inputs do beyond what each does alone.
type PairShare struct {
	Input string   `json:"input"`
	Other string   `json:"other"`
	Share *float64 `json:"share"`
	Low   *float64 `json:"share_low"`
	High  *float64 `json:"share_high"`
}

// Assumed is what the answer rests on beside the study's own evidence.
type Assumed struct {
	Defaults []Input        `json:"defaults"`
	Guessed  []Input        `json:"guessed"`
	HowKnown map[string]int `json:"how_known"`
	LeftOut  []LeftOut      `json:"left_out"`
	Tied     []Tied         `json:"tied"`
}

// An Input is one assumption.
type Input struct {
	Name     string `json:"input"`
	StatedAs string `json:"stated_as"`
	HowKnown string `json:"how_known,omitempty"`
	Source   string `json:"source,omitempty"`
	Constant bool   `json:"constant,omitempty"`
}

// Tied is the rank correlation of two inputs, wanted and in the draws.
type Tied struct {
	Input    string   `json:"input"`
	Other    string   `json:"other"`
	Wanted   float64  `json:"wanted"`
	Achieved *float64 `json:"achieved"`
}

// LeftOut is an output that could not be had, and why.
type LeftOut struct {
	Output string `json:"output"`
	Why    string `json:"why"`
}

// Shown is the answer in the units that the study wants to be shown in, for a page and a
// terminal; programs get those of the tables.
func (a *Answer) Shown() *Answer {
	if a.shown != nil {
		return a.shown
	}
	return a
}

// Read reads the answer of a finished result folder.
func Read(folder string) (*Answer, error) {
	manifest, err := result.ReadManifest(folder)
	if err != nil {
		return nil, err
	}
	t, err := readTables(folder, manifest)
	if err != nil {
		return nil, err
	}
	a := t.answer(manifest)
	if units := UnitsShown(t.meta); !units.None() {
		t.shown(units)
		a.shown = t.answer(manifest)
	}
	return a, nil
}

// answer makes the answer of what was read.
func (t *tables) answer(manifest *result.Manifest) *Answer {
	a := &Answer{Study: manifest.Study, About: t.meta[MetaAbout]}
	a.Run = t.run(manifest)
	a.Claims = t.claims()
	a.Choices = t.choices()
	a.Headline, a.Sizes = t.headline(), t.sizes()
	a.Readings = readingsOf(t.readings)
	a.Rare = rareOf(t.rare)
	a.Joint, a.Gains, a.Levers, a.Measure = jointOf(t.joint), gainsOf(t.causes), leversOf(t.levers), measuresOf(t.measure)
	a.Requires = requiredOf(t.requires)
	a.Evidence, a.Accounts = t.evidence(), t.rivals()
	a.Evidence.movedBy(manifest.Evidence)
	a.Decides = t.decides(a.Claims)
	a.Run.SharesKnownTo = widestShare(a.Decides)
	t.hangOn(a)
	t.tellWhere(a)
	a.Assumed = t.assumed()
	a.Contradictions = t.contradictions(a)
	_ = json.Unmarshal([]byte(t.meta[MetaWithdrawn]), &a.Withdrawn) // absent: nothing was
	_ = json.Unmarshal([]byte(t.meta[MetaHistory]), &a.History)
	a.Cautions = t.cautions(a)
	t.slips(a)
	return a
}

// tables are the rows of the folder's tables; of those that a study did not ask for
// there are none.
type tables struct {
	meta    map[string]string // of the summary
	left    string            // what the table of indices says that it left out
	summary []result.SummaryRow
	claimed []result.ClaimRow
	indices []result.IndexRow
	tornado []result.BarRow
	regions []result.RegionRow

	rare     []result.RareRow
	joint    []result.JointRow
	readings []result.ReadingRow
	causes   []result.CauseRow
	levers   []result.LeverRow
	requires []result.RequiredRow
	measure  []result.MeasureRow
	chosen   *result.ChoiceTable // nil without choices
	compared ChoicesAsked

	accounts       []result.AccountRow // none where there is one
	accountClaims  []result.AccountClaimRow
	accountOutputs []result.AccountOutputRow

	facts          []result.EvidenceRow // none where nothing was measured
	earlier        []result.SummaryRow  // before what was measured
	claimedEarlier []result.ClaimRow
}

func readTables(folder string, m *result.Manifest) (*tables, error) {
	t := &tables{}
	err := t.readChoices(folder, m)
	if err != nil {
		return nil, err
	}
	told := int64(t.told())
	t.summary, t.meta = read(result.Summary, folder, m, func(r *result.SummaryRow) bool { return r.Choice == told }, &err)
	t.claimed, _ = read(result.Claims, folder, m, func(r *result.ClaimRow) bool { return r.Choice == told }, &err)
	var ofIndices map[string]string
	t.indices, ofIndices = read(result.Indices, folder, m, func(r *result.IndexRow) bool { return r.Choice == told }, &err)
	t.left = ofIndices[MetaFiguresLeftOut]
	t.tornado, _ = read(result.Tornado, folder, m, func(r *result.BarRow) bool { return r.Choice == told }, &err)
	t.regions, _ = read(result.Regions, folder, m, func(r *result.RegionRow) bool { return r.Choice == told }, &err)
	t.requires, _ = read(result.Requires, folder, m, func(r *result.RequiredRow) bool { return r.Choice == told }, &err)
	t.measure, _ = read(result.Measure, folder, m, func(r *result.MeasureRow) bool { return r.Choice == told }, &err)
	t.readings, _ = read(result.Readings, folder, m, nil, &err)
	t.rare, _ = read(result.Rare, folder, m, nil, &err)
	t.joint, _ = read(result.Joint, folder, m, nil, &err)
	t.causes, _ = read(result.Causes, folder, m, nil, &err)
	t.levers, _ = read(result.Levers, folder, m, nil, &err)
	t.accounts, _ = read(result.Accounts, folder, m, nil, &err)
	t.accountClaims, _ = read(result.AccountClaims, folder, m, nil, &err)
	t.accountOutputs, _ = read(result.AccountOutputs, folder, m, nil, &err)
	t.facts, _ = read(result.Evidence, folder, m, nil, &err)
	t.earlier, _ = read(result.Earlier.Summary, folder, m, nil, &err)
	t.claimedEarlier, _ = read(result.Earlier.Claims, folder, m, nil, &err)
	if err != nil {
		return nil, err
	}
	return t, nil
}

// read reads the wanted rows of a table, nil: all; none once there is an error.
func read[T any](table *result.Typed[T], folder string, m *result.Manifest, wanted func(*T) bool, err *error) (rows []T, meta map[string]string) {
	switch {
	case *err != nil:
	case wanted == nil:
		rows, meta, *err = table.Read(folder, m)
	default:
		rows, meta, *err = table.ReadWhere(folder, m, wanted)
	}
	return rows, meta
}
