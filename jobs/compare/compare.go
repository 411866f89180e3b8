package compare

import (
	"errors"
	"time"

	"proofmass/jobs/report"
	"proofmass/jobs/shown"
	"proofmass/jobs/study"
)

// A Comparison is what changed from one result to another.
type Comparison struct {
	Old     Result   `json:"old"`
	New     Result   `json:"new"`
	Notes   []string `json:"notes"` // what to know before reading on: other studies, versions, draws
	Inputs  []Input  `json:"inputs"`
	Facts   []Fact   `json:"facts,omitempty"` // what was measured, where that is another than before
	Claims  []Claim  `json:"claims"`
	Told    []Told   `json:"told,omitempty"` // of the claims together
	Outputs []Output `json:"outputs"`
	Gone    []string `json:"gone"` // outputs and claims of the old result that the new one lacks
	Added   []string `json:"added"`
	Method  Method   `json:"method"`

	units shown.Units // in which people are shown it; programs get those of the tables
}

// A Result is one of the two.
type Result struct {
	Folder  string    `json:"folder"`
	Study   string    `json:"study"`
	Ended   time.Time `json:"ended"`
	Version string    `json:"program_version"`
	Seed    uint64    `json:"seed"`
	Rows    int64     `json:"rows"`
	Digest  string    `json:"study_digest"`
}

// Method says how causes were worked out.
type Method struct {
	Name         string `json:"name"` // all_orders, random_orders, or none where there are no causes
	Changes      int    `json:"changes"`
	Combinations int    `json:"combinations"`
	Orders       int    `json:"orders,omitempty"` // of random ones
	Rows         int    `json:"rows"`
	Seed         uint64 `json:"seed"`
	Why          string `json:"why_none,omitempty"` // in place of causes
}

// Names of methods.
const (
	AllOrders    = "all_orders"
	RandomOrders = "random_orders"
	NoCauses     = "none"
)

// What may have happened to an input.
const (
	StatedOtherwise = "stated_otherwise"
	New             = "new"  // it was computed, or was not there
	Gone            = "gone" // it is computed now, or is not there
	Words           = "words"
	Follows         = "follows" // a formula of what changed; it reads as before
)

// An Input is a number that was stated otherwise, before and after.
type Input struct {
	Name   string  `json:"input"`
	Change string  `json:"change"` // one of the words above
	Before *Belief `json:"before"`
	After  *Belief `json:"after"`
}

// A Fact is what was measured of an output or input: "" where nothing was.
type Fact struct {
	Of     string `json:"of"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// A Belief is what is known of a number, and its nine in ten draws.
type Belief struct {
	StatedAs string   `json:"stated_as"`
	Role     string   `json:"role"`
	Origin   string   `json:"origin"`
	Unit     string   `json:"unit"`
	P05      *float64 `json:"p05"`
	P50      *float64 `json:"p50"`
	P95      *float64 `json:"p95"`
	HowKnown string   `json:"how_known"`
	Source   string   `json:"source"`
}

// A Claim is a claim of both results.
type Claim struct {
	Name   string       `json:"claim"`
	Before report.Claim `json:"before"`
	After  report.Claim `json:"after"`
	Moved  bool         `json:"verdict_moved"`
	Chance Change       `json:"chance"`

	NeedsBefore string `json:"requires_before,omitempty"` // where it turned, in words
	NeedsAfter  string `json:"requires_after,omitempty"`
	turns       string // where it turns, in the units that people are shown

	MixedBefore string `json:"mixed_before,omitempty"` // as all rival accounts mixed had it, in words
	MixedAfter  string `json:"mixed_after,omitempty"`

	Told []Told `json:"told,omitempty"`

	NextBefore string `json:"measure_next_before,omitempty"` // what helped most to measure, with gauge and price
	NextAfter  string `json:"measure_next_after,omitempty"`
}

// An Output is an output of both results.
type Output struct {
	Name   string        `json:"output"`
	Unit   string        `json:"unit"`
	Before report.Spread `json:"before"`
	After  report.Spread `json:"after"`
	Middle Change        `json:"middle"`
	Mean   Change        `json:"mean"`
	Width  Change        `json:"width"` // of nine in ten draws
}

// A Change is that of one figure: its causes and what other draws did add up to it.
type Change struct {
	Before *float64 `json:"before"`
	After  *float64 `json:"after"`
	By     *float64 `json:"by"`
	Causes []Cause  `json:"causes"` // the largest first
	// Draws is what remains: another number or seed of draws, another version of the program.
	Draws *float64 `json:"draws"`
}

// A Cause is what one change of an input, or of several that only go together, brought.
// The interval is of sampling error and, with random orders, of their number.
type Cause struct {
	Cause string   `json:"cause"`
	By    float64  `json:"by"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// Options say how to compare.
type Options struct {
	Version string // the program's own
	Rows    int    // draws of each combination; 0: as many as keeps it short
	Workers int
	Tick    func(done, of int) // told of model runs; may be nil

	// Read reads the study of a result folder as it was run.
	Read func(path string) (*study.Study, error)
}

// ErrOther says that two results have nothing in common.
var ErrOther = errors.New("have no output and no claim in common; results of two versions of one study can be compared")

// ErrChoices says that a result has several answers.
var ErrChoices = errors.New("sweeps choices; results of studies without them can be compared")
