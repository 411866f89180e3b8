package study

import (
	"math"
	"strings"

	"proofmass/jobs/shown"
	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
	"proofmass/sampling/copula"
	"proofmass/sampling/marginal"
)

// AllClaims stands for all claims together.
const AllClaims = "all_claims"

// A Study is a study file that has been read and found right. Every number in it
// is in SI; units are kept for display alone.
type Study struct {
	Name, About string
	Currency    string // of its money, ISO 4217; "" where it has none
	Path        string // as the user wrote it
	Model       string // "vehicle" or "formulas"
	Files       []File // the study itself first, then the used files, in order of use

	Inputs   []Input // in file order: shared, own, then each vehicle's, its displaced and added items
	Vehicles []Vehicle
	Baseline string // "" in a model of formulas
	// Candidates are the vehicles that run, the baseline apart.
	Candidates []string
	Catalogue  *Catalogue
	Cars       []vehicle.Car   // one for each of Vehicles, templates too
	System     *vehicle.System // nil in a model of formulas
	Graph      *Graph
	Outputs    []Output
	Claims     []Claim
	Choices    *Choices  // nil where the designer decides nothing
	Best       *Best     // of the choices; nil where it is not asked for
	Front      []Aim     // under which no choice is worse than another in all
	Together   []Tie     // no input stands in two
	Facts      []Fact    // what the inputs must agree with
	Gauges     []Gauge   // with which more could be learnt
	Accounts   []Account // rival ones, of which this is the first; none without `either`

	Withdrawn []Withdrawn
	History   []Event      // the study's own, then that of what it names
	ShowIn    []shown.Wish // in which units numbers are shown that are not in a table

	Rows      int    // as the design takes them, rounded up; those of the first round where the sample grows
	RowsNote  string // what to say when the rows asked for were rounded; else ""
	Design    string // one of design.Names
	Seed      uint64
	Stopping  Stopping
	Rare      float64 // down to which chance rare claims are followed by rounds of their own; 0: not
	Indices   Indices
	Groups    []Group
	Keep      string  // "asked", "all" or "summary"
	Exact     bool    // evaluate all steps of a schedule, also in large runs
	Level     float64 // of the intervals, 0.95
	Coverage  float64 // of the coverage intervals of outputs, 0.95
	Overrides map[string]string
	// TraceNotes say what a reader of the study's own schedules has to know.
	TraceNotes []string

	// NumbersDigest is the SHA-256 of all that the numbers depend on: a study with other
	// comments, layout and free text has the same.
	NumbersDigest string
	DesignPlace   Place // where the study says its design, else where it says its sample or begins
}

// A File is a file as it was read.
type File struct {
	Path   string // as opened
	Name   string // as the study names it, which is its path below given/
	Data   []byte
	Digest string // SHA-256 of Data in hexadecimal
}

// A Withdrawn is an input, an output or a claim that no longer counts and stays in sight.
type Withdrawn struct{ Name, StatedAs, HowKnown, Source, Why string }

// What the layers below hand up.
type (
	Place    = source.Place
	Error    = source.Error
	Errors   = source.Errors
	Kind     = uncertain.Kind
	FreeText = uncertain.FreeText
	Event    = uncertain.Event
)

// The kinds of input.
const (
	Constant  = uncertain.Constant
	Uncertain = uncertain.Uncertain
	Formula   = uncertain.Formula
)

// An Input is one named number that is stated and not computed by the model.
type Input struct {
	Name     string // full: "drag_coefficient", "bonded.cell_mass", "bonded.displaced.floor_panel"
	Vehicle  string // "" for what belongs to none
	Quantity string // the part after the vehicle
	Kind     Kind
	Value    float64           // of a Constant, SI
	Marginal marginal.Marginal // of an Uncertain one, SI
	Expr     *formula.Expr     // of a Formula, checked
	Text     string            // how it is known, as written: "between 95 g and 98 g"

	Unit        unit.Unit // for display
	Temperature bool      // an absolute temperature, not a difference

	Low, High float64 // SI limits of the quantity
	Cut       float64 // share of the distribution that lay beyond them and was cut off, 0 as a rule
	Default   bool    // from the catalogue, not from the study
	Price     float64 // of learning it exactly, in the study's money; 0: not stated
	Choice    int     // place, from 1, among the names of the choices, which give its value; 0: none
	Free      FreeText
	Place     Place
}

// A Vehicle is a vehicle of the study or a template of a used file.
type Vehicle struct {
	Name      string
	Run       bool // false: a template that the study does not name
	BasedOn   []string
	Certified bool
	MassBasis string // "us_curb" or "eu_running_order"

	BasisStated bool // by the vehicle or by what it is based on; else us_curb is taken
	// NotTaken says which computed quantities it was not left from its base and cannot
	// compute either, and why; "" if there are none.
	NotTaken string
	Bill     []Line // its parts as they were weighed, those of its bases among them
	Free     FreeText
	Place    Place
}

// A Line is a part of a vehicle's bill.
type Line struct{ Name, Group, Material string }

// An Output is an extra output, by formula.
type Output struct {
	Name        string
	Expr        *formula.Expr
	Unit        unit.Unit
	Temperature bool
	Meaning     string
	Free        FreeText
	Place       Place
}

// A Claim is a condition whose chance is wanted.
type Claim struct {
	Name       string
	Text       string        // the condition as printed: "bonded.label_range_change >= 8.5 %"
	Expr       *formula.Expr // yes/no, checked
	Margin     *formula.Expr // how far inside; nil if there is no one margin
	MarginUnit unit.Unit
	Of         string // the name announced of; "" for holds

	// Of an announced value: SI values, its sense, and the limit that was made of them.
	Announced, RoundedTo float64
	Limit                float64 // that the value must reach; about has none, but two
	Below                bool    // the value must not go above the limit: at_most, or at_least of what is announced with a minus
	Sense                string  // "at_least", "at_most", "about"; "" for holds
	AnnouncedIn          unit.Unit
	Way                  int       // 1 where values above its limit hold, -1 below; 0 for about and for holds
	Words                string    // the condition and the announcement in plain English; "" for holds
	Readings             []Reading // of what else it may have been announced
	Free                 FreeText
	Place                Place
}

// Indices says how well the sensitivity indices are wanted, and of what.
type Indices struct {
	None            bool
	Stated          bool // the study says how they are wanted
	HalfWidth       float64
	HalfWidthStated bool // a stated half-width that is missed is worth an exit code
	AtMost          int  // model evaluations
	Of              []string
	Pairs           string // whose second-order indices: interacting, all, none
	Screen          string // "yes", "no", "" where the study leaves it open
}

// LeastRare and MostRare bound down to which chance rare claims are followed.
const LeastRare, MostRare = 1e-9, 0.01

// Stopping says how well chances and percentiles are wanted, where the study says so
// instead of a number of rows.
type Stopping struct {
	Chance      float64 // half-width of each claim's chance, 0 if not asked for
	Percentiles float64 // of p05, p50, p95 of each asked output, as a share of p95 - p05; 0 if not asked for
	AtMost      int     // rows of all rounds; 0 where the sample does not grow
}

// Options are what the command line adds to a study.
type Options struct {
	ReadFolders []string   // folders outside the study's own from which used files may come
	Rows        int        // instead of the study's; 0: the study's
	Seed        *uint64    // instead of the study's
	Name        string     // of a study that does not say its name; "": the file's
	Catalogue   *Catalogue // of vehicles; nil: the built-in one
}

// A Group is inputs whose share in an output is wanted together, beside that of
// each.
type Group struct {
	Name   string
	Inputs []string // full names; of the model's own error those of the numbers drawn for it
	Place  Place
}

// A Tie is a group of uncertain inputs that are drawn together.
type Tie struct {
	Inputs     []string    // full names
	Spearman   [][]float64 // wanted rank correlations
	Dependence *copula.Dependence
	Free       FreeText
	Place      Place
}

// Quantity describes any name that an expression of this study may use: an input,
// an own quantity, what a vehicle computes, its change or difference, an extra output.
func (s *Study) Quantity(name string) (model.Quantity, bool) {
	if in := s.Graph.stated[name]; in != nil {
		return s.inputQuantity(in), true
	}
	for i := range s.Outputs {
		if s.Outputs[i].Name == name {
			return s.Outputs[i].quantity(), true
		}
	}
	if s.System == nil {
		return model.Quantity{}, false
	}
	q, ok := s.System.Quantity(name)
	return s.inMoney(q), ok
}

// inMoney is the quantity in the study's own currency, where the catalogue leaves it open.
func (s *Study) inMoney(q model.Quantity) model.Quantity {
	if q.Unit.Currency() == unit.NoCurrency && s.Currency != "" {
		if u, err := unit.Parse(strings.ReplaceAll(q.Unit.String(), unit.NoCurrency, s.Currency)); err == nil {
			q.Unit = u
		}
	}
	return q
}

// inputQuantity is the catalogue's declaration of an input with the study's own source,
// else one made of what the study says.
func (s *Study) inputQuantity(in *Input) model.Quantity {
	if q, ok := s.Catalogue.Find(in.Quantity); ok && s.Model != "formulas" {
		q.Source = in.Free.Source
		return s.inMoney(q)
	}
	return model.Quantity{Name: in.Name, Unit: in.Unit, Low: in.Low, High: in.High, Meaning: in.Free.Meaning, Source: in.Free.Source,
		Temperature: in.Temperature, Stated: true}
}

func (o *Output) quantity() model.Quantity {
	return model.Quantity{Name: o.Name, Unit: o.Unit, Low: math.Inf(-1), High: math.Inf(1), Meaning: o.Meaning,
		Source: o.Free.Source, Temperature: o.Temperature, Computed: true}
}

// input finds an input of the study by its full name.
func (s *Study) input(name string) (Input, bool) {
	for i := range s.Inputs {
		if s.Inputs[i].Name == name {
			return s.Inputs[i], true
		}
	}
	return Input{}, false
}
