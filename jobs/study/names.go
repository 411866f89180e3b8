package study

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model"
	"proofmass/model/formula"
)

const maxName = 64

// Groups that the program makes itself, so that no study may: of what vehicles share,
// and of what screening set aside.
const (
	SharedGroup = "shared"
	OthersGroup = "others"
)

var snakeCase = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// formatWords are words of the format where names of inputs, choices or rival accounts
// will stand, also in what this version has not.
var formatWords = []string{"list", "spread", "over", "account", "log_likelihood"}

// tableColumns are the columns that every table of samples has.
var tableColumns = []string{"row", "choice", "replicate", "weight", "feasible"}

// named checks a name that the study chooses.
func named(p source.Pair, what string) bool {
	words := append(formula.Functions(), "and", "or", "not", "if", "pi", "min", "max")
	switch {
	case len(p.Name) > maxName:
		p.Key.Err(fmt.Sprintf("a name of %d letters", len(p.Name)), "a name has at most 64")
	case !snakeCase.MatchString(p.Name):
		p.Key.Err(source.Quote(p.Name)+" as a name", "a name has small letters, digits and _, and begins with a letter"+snakeHint(p.Name))
	case p.Name == AllClaims:
		p.Key.Err(source.Quote(p.Name)+" as a name", "it is reserved for all claims together")
	case slices.Contains([]string{"vehicle", "input", "own quantity"}, what) && (p.Name == SharedGroup || p.Name == OthersGroup):
		p.Key.Err(source.Quote(p.Name)+" as a name", "the program makes a group of inputs of that name itself")
	case what != "vehicle" && what != "item" && slices.Contains(words, p.Name):
		p.Key.Err(source.Quote(p.Name)+" as a name", "it is a word of expressions")
	case what != "vehicle" && what != "item" && slices.Contains(tableColumns, p.Name):
		p.Key.Err(source.Quote(p.Name)+" as a name", "it is a column of the sample tables")
	case what != "item" && slices.Contains(formatWords, p.Name):
		p.Key.Err(source.Quote(p.Name)+" as a name", "it is a word of the format: choose another")
	default:
		return true
	}
	return false
}

// snakeHint offers the name as it would be allowed.
func snakeHint(name string) string {
	fixed := strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r == ' ' || r == '-' || r == '.':
			return '_'
		}
		return r
	}, name)
	if snakeCase.MatchString(fixed) {
		return ": " + fixed
	}
	return ""
}

// ofCatalogue refuses a chosen name that the catalogue has.
func (r *reader) ofCatalogue(p source.Pair, what string) bool {
	_, ok := r.catalogue.Find(p.Name)
	if ok {
		instead := "state it under inputs or a vehicle"
		if what == "outputs" {
			instead = "choose another name"
		}
		p.Key.Err(source.Quote(p.Name)+" under "+what, "it is a quantity of the catalogue: "+instead)
	}
	return ok
}

// catalogueNames are the names that a study may state.
func (d *declared) catalogueNames() []string {
	var all []string
	for _, q := range d.catalogue.Quantities() {
		if q.Stated {
			all = append(all, q.Name)
		}
	}
	return all
}

// stated finds the catalogue quantity that the key names. A key that is none, or
// one that can only be computed, is reported; owner is the vehicle or "".
func (r *reader) stated(p source.Pair, owner string, more ...string) (model.Quantity, bool) {
	q, ok := r.catalogue.Find(p.Name)
	switch {
	case ok && q.Stated:
		return q, true
	case ok:
		if owner == "" {
			owner = r.anyVehicle()
		}
		p.Key.Err(p.Name+" is computed and cannot be stated", fmt.Sprintf("what was measured is evidence: measured: [{of: %s.%s, %s}]",
			owner, p.Name, measuredText(p.Value)))
		return q, false
	case slices.ContainsFunc(r.own.order, func(st *statement) bool { return st.Name == p.Name }):
		p.Key.Err(p.Name+" under a vehicle", "it is an own quantity, shared by all vehicles: state it under own alone")
		return q, false
	}
	r.unclear = true
	if p.Key.Errors().Full() {
		p.Key.Err("not a quantity of the catalogue", "") // is counted, not shown: spare the search
		return q, false
	}
	allowed := source.Suggest(p.Name, append(r.catalogueNames(), more...))
	if strings.HasPrefix(allowed, "allowed") {
		allowed = "the catalogue is shown by: proofmass list inputs; a quantity of your own belongs under own"
	}
	p.Key.Err("not a quantity of the catalogue", allowed)
	return q, false
}

// anyVehicle is the first vehicle that the study names, for an example.
func (r *reader) anyVehicle() string {
	if pairs, ok := r.top["vehicles"]; ok && pairs.IsMapping() && pairs.Len() > 0 {
		first, _ := pairs.Pairs("")
		return source.Printable(first[0].Name, maxName)
	}
	return "VEHICLE"
}

// measuredText turns what was stated into the words of a measured fact.
func measuredText(v source.Field) string {
	switch {
	case v.IsMapping() && v.Len() > 0:
		text := v.Flow()
		return source.Printable(text[1:len(text)-1], 120)
	case v.IsScalar():
		return "normal: {mean: " + source.Printable(v.Raw(), 40) + ", sd: ...}"
	}
	return "normal: {mean: ..., sd: ...}"
}
