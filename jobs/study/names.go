package study

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/vehicle"
)

const maxName = 64

// allClaims stands for all claims together.
const allClaims = "all_claims"

var snakeCase = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// formatWords are words of the format where names of inputs, choices or rival accounts
// will stand, also in what this version has not.
var formatWords = []string{"list", "spread", "over", "account", "log_likelihood"}

// tableColumns are the columns that every table of samples has.
var tableColumns = []string{"row", "choice", "replicate", "weight", "feasible"}

// named checks a name that the study chooses.
func (p pair) named(what string) bool {
	words := append(formula.Functions(), "and", "or", "not", "if", "pi", "min", "max")
	switch {
	case len(p.name) > maxName:
		p.key.err(fmt.Sprintf("a name of %d letters", len(p.name)), "a name has at most 64")
	case !snakeCase.MatchString(p.name):
		p.key.err(quote(p.name)+" as a name", "a name has small letters, digits and _, and begins with a letter"+snakeHint(p.name))
	case p.name == allClaims:
		p.key.err(quote(p.name)+" as a name", "it is reserved for all claims together")
	case slices.Contains([]string{"vehicle", "input", "own quantity"}, what) && (p.name == SharedGroup || p.name == OthersGroup):
		p.key.err(quote(p.name)+" as a name", "the program makes a group of inputs of that name itself")
	case what != "vehicle" && what != "item" && slices.Contains(words, p.name):
		p.key.err(quote(p.name)+" as a name", "it is a word of expressions")
	case what != "vehicle" && what != "item" && what != "claim" && slices.Contains(tableColumns, p.name):
		p.key.err(quote(p.name)+" as a name", "it is a column of the sample tables")
	case what != "item" && slices.Contains(formatWords, p.name):
		p.key.err(quote(p.name)+" as a name", "it is a word of the format: choose another")
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
func (p pair) ofCatalogue(what string) bool {
	_, ok := vehicle.Find(p.name)
	if ok {
		instead := "state it under inputs or a vehicle"
		if what == "outputs" {
			instead = "choose another name"
		}
		p.key.err(quote(p.name)+" under "+what, "it is a quantity of the catalogue: "+instead)
	}
	return ok
}

// catalogueNames are the names that a study may state.
func catalogueNames() []string {
	var all []string
	for _, q := range vehicle.Catalogue() {
		if q.Stated {
			all = append(all, q.Name)
		}
	}
	return all
}

// stated finds the catalogue quantity that the key names. A key that is none, or
// one that can only be computed, is reported; owner is the vehicle or "".
func (r *reader) stated(p pair, owner string, more ...string) (model.Quantity, bool) {
	q, ok := vehicle.Find(p.name)
	switch {
	case ok && q.Stated:
		return q, true
	case ok:
		if owner == "" {
			owner = r.anyVehicle()
		}
		p.key.err(p.name+" is computed and cannot be stated", fmt.Sprintf("what was measured is evidence, not built yet: measured: [{of: %s.%s, %s}]",
			owner, p.name, measuredText(p.value)))
		return q, false
	case slices.ContainsFunc(r.own.order, func(st *statement) bool { return st.Name == p.name }):
		p.key.err(p.name+" under a vehicle", "it is an own quantity, shared by all vehicles: state it under own alone")
		return q, false
	}
	r.misspelt = true
	if p.key.src.errs.full() {
		p.key.err("not a quantity of the catalogue", "") // is counted, not shown: spare the search
		return q, false
	}
	allowed := suggest(p.name, append(catalogueNames(), more...))
	if strings.HasPrefix(allowed, "allowed") {
		allowed = "the catalogue is shown by: proofmass list inputs; a quantity of your own belongs under own"
	}
	p.key.err("not a quantity of the catalogue", allowed)
	return q, false
}

// anyVehicle is the first vehicle that the study names, for an example.
func (r *reader) anyVehicle() string {
	if v, ok := r.top["vehicles"]; ok && v.isMapping() && len(v.node.Content) > 0 {
		return printable(v.node.Content[0].Value, maxName)
	}
	return "VEHICLE"
}

// measuredText turns what was stated into the words of a measured fact.
func measuredText(v field) string {
	switch {
	case v.isMapping() && len(v.node.Content) > 0:
		text := flowText(v.node, 0)
		return printable(text[1:len(text)-1], 120)
	case v.isScalar():
		return "normal: {mean: " + printable(v.node.Value, 40) + ", sd: ...}"
	}
	return "normal: {mean: ..., sd: ...}"
}

// flowText writes a node in one line, as far as a message has room for it.
func flowText(n *yaml.Node, depth int) string {
	var parts []string
	for i, child := range n.Content {
		switch {
		case depth > 4 || i > 20:
			return "{...}"
		case n.Kind == yaml.MappingNode && i%2 == 0:
			parts = append(parts, child.Value+": "+flowText(n.Content[i+1], depth+1))
		case n.Kind == yaml.SequenceNode:
			parts = append(parts, flowText(child, depth+1))
		}
	}
	switch n.Kind {
	case yaml.MappingNode:
		return "{" + strings.Join(parts, ", ") + "}"
	case yaml.SequenceNode:
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return printable(n.Value, 40)
}
