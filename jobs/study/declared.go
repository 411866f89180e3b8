package study

import (
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/vehicle"
)

// declared is what the files of a study state, section by section, before names are
// looked up: data that the reader makes and the resolver turns into a Study.
type declared struct {
	model     string                  // "vehicle" or "formulas"
	top       map[string]source.Field // the study's top-level keys; nil where it has none to go on with
	numbers   uncertain.Context
	catalogue *Catalogue // of vehicles

	inputs    statements // shared, by name; in a model of formulas all
	own       statements
	vehicles  []*vehicleDecl
	baseline  string
	outputs   []*outputDecl
	claims    []*claimDecl
	indexOf   []source.Field // what indices are wanted of
	ties      []*tieDecl
	grouped   []*groupDecl
	facts     []*factDecl
	pastFacts []*factDecl // withdrawn
	gauges    []*gaugeDecl
	aims      []aimDecl // in what choices are compared
	shownIn   []shownDecl

	outputNamed map[string]*outputDecl
	badClaims   []*claimDecl // of which a mistake is reported

	// unread are the parts of the files, by top-level key, of which something was refused
	// unread: what they would have named is not missed a second time.
	unread map[string]bool

	// unclear: a line that was not understood may give what seems to lack.
	unclear bool
}

// statement is an input as a file states it; formulas are checked when all names are
// known.
type statement struct {
	*Input
	key, value source.Field
	expr       source.Field // of a formula
	unitStated bool         // of a formula, by `unit:`
	broken     bool         // its error is already reported
	withdrawn  string       // why it no longer counts
	checked    bool         // its expression
	chosen     bool         // choices alone name it
}

// isItem reports whether the statement is a displaced or added mass, or of a line of a bill.
func (st *statement) isItem() bool {
	return strings.HasPrefix(st.Quantity, "displaced.") || strings.HasPrefix(st.Quantity, "added.") || strings.HasPrefix(st.Quantity, "bill.")
}

// statements are named inputs in file order.
type statements struct {
	order []*statement
	named map[string]*statement
}

func (l *statements) add(st *statement) {
	if l.named == nil {
		l.named = map[string]*statement{}
	}
	l.order = append(l.order, st)
	l.named[st.Name] = st
}

func (d *declared) formulas() bool { return d.model == "formulas" }

// statements are all inputs in file order: shared, own, then each vehicle's.
func (d *declared) statements() []*statement {
	all := slices.Concat(d.inputs.order, d.own.order)
	for _, v := range d.vehicles {
		all = slices.Concat(all, v.stated.order, v.displaced.order, v.added.order, v.bill.order)
	}
	return all
}

// statement finds an input by its full name, nil if none states it.
func (d *declared) statement(name string) *statement {
	for _, list := range []statements{d.inputs, d.own} {
		if st := list.named[name]; st != nil {
			return st
		}
	}
	owner, _, _ := strings.Cut(name, ".")
	if v := d.vehicle(owner); v != nil {
		for _, list := range []statements{v.stated, v.displaced, v.added, v.bill} {
			if st := list.named[name]; st != nil {
				return st
			}
		}
	}
	return nil
}

// vehicle finds a vehicle by name, nil if there is none.
func (d *declared) vehicle(name string) *vehicleDecl {
	for _, v := range d.vehicles {
		if v.Name == name {
			return v
		}
	}
	return nil
}

func (d *declared) vehicleNames() []string {
	var names []string
	for _, v := range d.vehicles {
		names = append(names, v.Name)
	}
	return names
}

// output finds an extra output by name, nil if there is none.
func (d *declared) output(name string) *outputDecl { return d.outputNamed[name] }

// refuse notes that something of a section was refused unread.
func (d *declared) refuse(section string) {
	if d.unread == nil {
		d.unread = map[string]bool{}
	}
	d.unread[section] = true
}

// missed reports whether a name that nothing has may be missed because something of the
// sections was refused unread, or, unless it is a slip for a known one, something of a used
// file or of the top level: that is no second mistake.
func (d *declared) missed(name string, known []string, sections ...string) bool {
	for _, section := range sections {
		if d.unread[section] {
			return true
		}
	}
	return (d.unread["use"] || d.unread["study"]) && source.Nearest(name, known) == ""
}

// inputNames are the names of all inputs.
func (d *declared) inputNames() []string {
	var names []string
	for _, st := range d.statements() {
		names = append(names, st.Name)
	}
	return names
}

// badClaim reports whether a claim of that name has mistakes that are reported.
func (d *declared) badClaim(name string) bool {
	for _, c := range d.badClaims {
		if c.Name == name {
			return true
		}
	}
	return false
}

// reader gathers what the files state: declarations, and what stands in a Study as it is
// written.
type reader struct {
	*declared
	o    Options
	s    *Study
	errs *source.Collector
	root source.Field // of the study's own file
	used []usedFile

	written map[string]string // how the study names each of them, by path
}

// vehicleDecl is a vehicle as the files state it.
type vehicleDecl struct {
	Vehicle
	key, value source.Field
	catalogue  *Catalogue
	bases      []source.Field
	certified  string          // "yes", "no" or "" for as its base
	sizeFor    vehicle.SizeFor // "" for cells that are stated
	sizeField  source.Field
	stated     statements // by full name: its own quantities
	displaced  statements // items, by full name
	added      statements
	bill       statements    // masses, counts and places of lines, by full name
	billLines  []*billLine   // in file order
	billKey    *source.Field // nil without a bill

	// Resolved, see inherit.go.
	takes  map[string]string // quantity to the full name that states it, own and inherited, without shared inputs
	items  map[string]string // "displaced.floor_panel" to full name
	order  []string          // of items
	billed billOf            // with what its bases have
	undone map[string]string // computed quantity that is not taken over to the line that is the reason
	car    *vehicle.Car
	looped bool // based on itself, and reported
}

// outputDecl is an extra output as the study states it.
type outputDecl struct {
	Output
	key, expr source.Field
	unitField source.Field
	hasUnit   bool
	checked   bool
	broken    bool
	withdrawn string // why it no longer counts
}

// claimDecl is a claim as the study states it.
type claimDecl struct {
	Claim
	key                               source.Field
	of, holds, announced, rounded     source.Field
	hasOf, hasHolds, hasAnn, hasRound bool
	sense                             *source.Field
	value                             source.Field
	withdrawn                         string // why it no longer counts
	meanings                          []source.Field
	hasMeanings                       bool
}

// tieDecl is a group as the study states it.
type tieDecl struct {
	Tie
	names  []source.Field
	value  source.Field
	at     source.Field // of the correlations
	alike  bool         // one number for all pairs
	broken bool         // a name is wrong, and reported
}

// groupDecl is a group as the study states it.
type groupDecl struct {
	Group
	key   source.Pair
	named bool // the name alone is right
	names []source.Field
}

// usedFile is a used file that has been parsed.
type usedFile struct {
	path string // as opened
	root source.Field
}
