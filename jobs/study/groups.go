package study

import (
	"slices"
	"strings"

	"proofmass/jobs/study/source"
)

// mostGroups bounds the runs that groups ask for.
const mostGroups = 100

// groups reads the groups of inputs whose shares are wanted together.
func (r *reader) groups(v source.Field) {
	pairs, ok := v.Pairs("groups is a mapping: name: [inputs]")
	if !ok || !v.AtMost(mostGroups, "groups") {
		return
	}
	for _, p := range pairs {
		d := &groupDecl{key: p, Group: Group{Name: p.Name, Place: p.Key.Place()}}
		if p.Name == SharedGroup || p.Name == OthersGroup {
			p.Key.Err(source.Quote(p.Name)+" as a name", "the program makes a group of that name itself: choose another name")
		} else {
			d.named = named(p, "group")
		}
		if d.names, ok = p.Value.List("a group is a list of inputs"); ok && len(d.names) == 0 {
			p.Value.Err("no inputs", "a group has at least one")
		}
		r.grouped = append(r.grouped, d)
	}
}

// checkGroups checks the names of the groups and of their inputs.
func (r *resolver) checkGroups() {
	for _, d := range r.grouped {
		if what := r.takenAs(d.Name); d.named && what != "" {
			d.key.Key.Err(source.Quote(d.Name)+" as the name of a group", "it is the name of "+what+": choose another name")
		}
		r.checkGroup(d)
	}
}

// checkGroup resolves the names of a group's inputs. What is tied is swapped as one,
// so that a group holds all of it or none.
func (r *resolver) checkGroup(d *groupDecl) {
	held, understood := map[string]bool{}, true
	for _, f := range d.names {
		name, ok := f.Text("the name of an input is expected")
		switch {
		case !ok || !r.groupable(f, name):
			understood = false
		case held[name]:
			f.Err(source.Quote(name)+" stands twice in the group", "once is enough")
		default:
			held[name] = true
			d.Inputs = append(d.Inputs, name)
		}
	}
	if understood { // what is misspelt would be missed twice
		r.wholeTies(d, held)
	}
}

// groupable reports whether a name is that of an uncertain input, stated or by
// default.
func (r *resolver) groupable(f source.Field, name string) bool {
	if r.statement(name) != nil || r.carless() || r.formulas() {
		return r.uncertain(f, name, grouped)
	}
	if _, ok := r.factor(name); ok {
		return r.groupableFactor(f, name)
	}
	defaults := r.defaultsRead()
	switch whole := r.partOf(name); {
	case r.hidden(name):
		f.Err(source.Quote(name)+" is no input of this study", `did you mean "`+r.factorOf(name)+`"?`)
		return false
	case whole != "":
		f.Err(name+" is a part of "+whole, "defaults that are drawn together are swapped together: name "+whole)
		return false
	}
	kind, read := defaults[name]
	if read && kind == Uncertain {
		return true
	}
	owner, quantity, full := strings.Cut(name, ".")
	stated := r.statedAs(name) != ""
	if full && !read && !stated && r.vehicle(owner) != nil {
		kind, read = defaults[quantity]
	}
	switch {
	case read && kind != Uncertain:
		f.Err(name+" is a constant by default", grouped+" is uncertain")
	case read:
		f.Err(source.Quote(name)+" is no input of this study", "it is a default that vehicles share: name "+quantity)
	case full || stated || r.catalogue.DefaultText(name) == "":
		return r.uncertain(f, name, grouped, r.uncertainDefaults()...)
	case !r.unclear: // what a misspelt line would have given may be what reads it
		f.Err(name+" is read by no vehicle that runs", grouped+" is an input that the study uses")
	}
	return false
}

// wholeTies refuses a group with a part of what is tied.
func (r *resolver) wholeTies(d *groupDecl, held map[string]bool) {
	for _, t := range r.ties {
		var missing []string
		for _, name := range t.Inputs {
			if !held[name] {
				missing = append(missing, name)
			}
		}
		if n := len(missing); !t.broken && n > 0 && n < len(t.Inputs) {
			d.key.Value.Err("a part of what is tied", "inputs that are tied are swapped together: add "+source.Printable(source.Listed(missing, "and"), 200)+", or take the others out")
		}
	}
}

// takenAs says what else in the study has the name, "" if nothing has.
func (r *resolver) takenAs(name string) string {
	_, inCatalogue := r.catalogue.Find(name)
	switch {
	case r.statement(name) != nil:
		return "an input"
	case r.output(name) != nil:
		return "an output"
	case r.vehicle(name) != nil:
		return "a vehicle, whose inputs are a group without being asked for"
	case slices.ContainsFunc(r.claims, func(c *claimDecl) bool { return c.Name == name }):
		return "a claim"
	case r.calledFactor(name) != "":
		return r.calledFactor(name)
	case inCatalogue && !r.formulas():
		return "a quantity of the catalogue"
	}
	return ""
}

// groupsInUse refuses what only a template states that no vehicle is based on.
func (r *resolver) groupsInUse() {
	used := r.inUse()
	for _, d := range r.grouped {
		r.refuseUnused(d.Inputs, d.names, used, grouped)
		d.Inputs = r.drawn(d.Inputs)
		r.s.Groups = append(r.s.Groups, d.Group)
	}
}
