package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/model/unit"
	"proofmass/sensitivity/estimate"
	"proofmass/sensitivity/split"
)

// A Comparison is what changed from one result to another.
type Comparison struct {
	Old     Result   `json:"old"`
	New     Result   `json:"new"`
	Notes   []string `json:"notes"` // what to know before reading on: other studies, versions, draws
	Inputs  []Input  `json:"inputs"`
	Claims  []Claim  `json:"claims"`
	Outputs []Output `json:"outputs"`
	Gone    []string `json:"gone"` // outputs and claims of the old result that the new one lacks
	Added   []string `json:"added"`
	Method  Method   `json:"method"`
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
	c := &Comparison{Old: sides[0].facts, New: sides[1].facts, Notes: notes(sides[0], sides[1], o.Version), Inputs: inputs(sides[0], sides[1])}
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
	answer  *report.Answer
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
	f.summary, _, err = result.Summary.Read(path, m)
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

// inputs lists what was stated otherwise, in the order of the new result.
func inputs(a, b *folder) []Input {
	list := []Input{}
	find := func(f *folder, name string) *result.SummaryRow {
		for i := range f.summary {
			if f.summary[i].Output == name {
				return &f.summary[i]
			}
		}
		return nil
	}
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
		case before.StatedAs == after.StatedAs && after.Role == result.RoleFormula && before.Role == result.RoleFormula && (before.P05 != after.P05 || before.P50 != after.P50 || before.P95 != after.P95):
			in.Change = Follows
		case before.StatedAs != after.StatedAs || before.P05 != after.P05 || before.P95 != after.P95:
			in.Change = StatedOtherwise
		case before.HowKnown != after.HowKnown || before.Source != after.Source:
			in.Change = Words
		default:
			return
		}
		list = append(list, in)
	}
	for i := range b.summary {
		add(b.summary[i].Output, find(a, b.summary[i].Output), &b.summary[i])
	}
	for i := range a.summary {
		if find(b, a.summary[i].Output) == nil {
			add(a.summary[i].Output, &a.summary[i], nil)
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
	return &Belief{r.StatedAs, string(r.Role), string(r.Origin), r.Unit, known(r.P05), known(r.P50), known(r.P95), r.HowKnown, r.Source}
}

func known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
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
			Chance: Change{Before: known(old.Chance), After: known(x.Chance), By: known(x.Chance - old.Chance), Causes: []Cause{}}})
	}
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

func spread(r *result.SummaryRow) report.Spread {
	return report.Spread{Unit: r.Unit, P05: known(r.P05), P50: known(r.P50), P95: known(r.P95)}
}

func change(before, after float64) Change {
	return Change{Before: known(before), After: known(after), By: known(after - before), Causes: []Cause{}}
}

// work is about how many rows all combinations together have, where nobody says.
const work, leastRows = 1 << 20, 16384

// explain works out the causes.
func (c *Comparison) explain(ctx context.Context, a, b *folder, o Options) error {
	c.Method = Method{Name: NoCauses, Seed: b.facts.Seed}
	var sides [2]*side
	for i, f := range []*folder{a, b} {
		s, err := o.Read(filepath.Join(f.path, result.StudyFile))
		if err == nil {
			sides[i], err = sideOf(s)
		}
		if err != nil {
			c.Method.Why = "the study in " + f.path + " can't be read by this version of the program: " + err.Error()
			return nil
		}
	}
	e := &evaluator{merger: newMerger(sides[0], sides[1]), context: ctx, workers: o.Workers, rows: leastRows, seed: b.facts.Seed}
	for _, x := range c.Outputs {
		e.names = append(e.names, x.Name)
	}
	for _, x := range c.Claims {
		e.names = append(e.names, study.HoldsName(x.Name))
	}
	why, err := e.prepare()
	if err != nil || why != "" {
		c.Method.Why = why
		return err
	}
	n := len(e.players)
	e.rows = rowsOfEach(o.Rows, n, b.facts.Rows)
	tick := func(done, of int) {
		if o.Tick != nil {
			o.Tick(done*e.rows, of*e.rows)
		}
	}
	if err := e.evaluate(tick); err != nil {
		return err
	}
	n = len(e.players)
	c.Method = Method{Name: AllOrders, Changes: n, Combinations: len(split.Combinations(n)), Rows: e.rows, Seed: e.seed}
	if n > split.Exact {
		c.Method.Name, c.Method.Orders = RandomOrders, split.Orders
	}
	for i := range c.Outputs {
		x := &c.Outputs[i]
		level := func(v float64) float64 { return e.units[x.Name].FromSI(v) }
		size := func(v float64) float64 { return level(v) - level(0) }
		e.causes(&x.Middle, i, level, func(f *figures) *figure { return &f.middle })
		e.causes(&x.Mean, i, level, func(f *figures) *figure { return &f.mean })
		e.causes(&x.Width, i, size, func(f *figures) *figure { return &f.width })
	}
	for i := range c.Claims {
		e.causes(&c.Claims[i].Chance, len(c.Outputs)+i, func(v float64) float64 { return v }, func(f *figures) *figure { return &f.mean })
	}
	return nil
}

// rowsOfEach is how many draws a combination has.
func rowsOfEach(asked, players int, stored int64) int {
	if asked > 0 {
		return asked
	}
	rows := leastRows
	for int64(2*rows) <= stored && 2*rows*len(split.Combinations(players)) <= work {
		rows *= 2
	}
	if n := len(split.Combinations(players)); int64(rows) < stored && int(stored)*n <= work || int64(rows) > stored {
		rows = int(stored)
	}
	return max(rows, 512)
}

// prepare sorts the lines into changes. It returns why that can't be.
func (e *evaluator) prepare() (why string, err error) {
	for _, e.extra = range []bool{false, true} {
		e.find()
		if len(e.lines) > split.Most {
			return fmt.Sprintf("%d lines of the study differ; causes are worked out for %d at most", len(e.lines), split.Most), nil
		}
		e.players = nil
		for k := range e.lines {
			e.players = append(e.players, []int{k})
		}
		var bad error
		for _, s := range []split.Set{0, split.Set(1)<<len(e.lines) - 1} {
			p, err := e.plan(s)
			if err != nil && !errors.Is(err, errApart) {
				return "", err
			}
			if err != nil {
				bad = err
				continue
			}
			e.units = map[string]unit.Unit{}
			for _, c := range p.Columns {
				e.units[c.Name] = c.Quantity.Unit
			}
		}
		if bad == nil {
			return "", e.group()
		}
		why = "the two studies can't be put together line by line: " + bad.Error()
	}
	return why, nil
}

// name is what a player is called: its lines, of which any may be many.
func (e *evaluator) name(player int) string {
	text := ""
	for i, k := range e.players[player] {
		if i == 3 && len(e.players[player]) > 4 {
			return text + " and " + strconv.Itoa(len(e.players[player])-3) + " more together"
		}
		if i > 0 {
			text += ", "
		}
		text += e.lines[k].name
	}
	return text
}

// causes fills the causes of a figure of column i.
func (e *evaluator) causes(c *Change, i int, display func(float64) float64, of func(*figures) *figure) {
	n := len(e.players)
	value := func(s split.Set) float64 { return display(of(&e.values[s][i]).all) }
	mean, wide := split.Shares(n, value)
	replicates := len(of(&e.values[0][i]).replicates)
	each := make([][]float64, n)
	for r := range replicates {
		one, _ := split.Shares(n, func(s split.Set) float64 { return display(of(&e.values[s][i]).replicates[r]) })
		for p, x := range one {
			each[p] = append(each[p], x)
		}
	}
	all := 0.0
	for p, by := range mean {
		if math.IsNaN(by) {
			c.Causes = []Cause{}
			return
		}
		all += by
		cause := Cause{Cause: e.name(p), By: by}
		if half := halfWidth(each[p]); !math.IsNaN(half) {
			half = root(float64(half*half) + float64(wide[p]*wide[p]))
			cause.Low, cause.High = known(by-half), known(by+half)
		}
		c.Causes = append(c.Causes, cause)
	}
	slices.SortStableFunc(c.Causes, func(a, b Cause) int {
		switch x, y := math.Abs(a.By), math.Abs(b.By); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	if c.By != nil {
		rest := *c.By - all
		if math.Abs(rest) <= 1e-9*max(math.Abs(*c.Before), math.Abs(*c.After)) {
			rest = 0 // rounding: the very draws of the tables
		}
		c.Draws = &rest
	}
}

// halfWidth is that of the 95 % interval of a mean over replicates.
func halfWidth(x []float64) float64 {
	n := float64(len(x))
	if n < 2 {
		return math.NaN()
	}
	mean, squares := 0.0, 0.0
	for _, v := range x {
		mean += v / n
	}
	for _, v := range x {
		squares += float64((v - mean) * (v - mean))
	}
	return float64(estimate.StudentQuantile(0.95, len(x)-1) * root(squares/(n-1)/n))
}
