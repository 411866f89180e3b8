package plan

import (
	"slices"
	"strings"

	"proofmass/jobs/study"
)

// groups are those that the study names, then, where there are vehicles, the
// inputs of each and those that they share. A group of one factor tells nothing
// new and is left out, unless the study asks for it.
func (p *Plan) groups() []Factor {
	var groups []Factor
	for _, g := range p.Study.Groups {
		if f := p.group(g.Name, func(f Factor) bool { return p.holdsAny(f, g.Inputs) }); len(f.Inputs) > 0 {
			groups = append(groups, f)
		}
	}
	if p.Study.System == nil {
		return groups
	}
	for _, owner := range p.owners() {
		name := owner
		if owner == "" {
			name = study.SharedGroup
		}
		count := 0
		f := p.group(name, func(f Factor) bool {
			owned := p.ownedBy(f, owner)
			if owned {
				count++
			}
			return owned
		})
		if count > 1 {
			groups = append(groups, f)
		}
	}
	return groups
}

// idleGroups says which of the study's groups tell nothing.
func (p *Plan) idleGroups() []string {
	if len(p.Study.Groups) > 0 && p.Index.Rows == 0 {
		return []string{"Groups of inputs are looked at by swapping them, and no inputs are swapped: groups tell nothing here."}
	}
	var idle []string
	for _, g := range p.Study.Groups {
		if !slices.ContainsFunc(p.Index.Swaps, func(s Swap) bool { return s.Name == g.Name && s.Number < 0 }) {
			idle = append(idle, g.Name)
		}
	}
	if len(idle) == 0 {
		return nil
	}
	return []string{"Groups of which nothing asked for depends on any input: " + strings.Join(idle, ", ") + "."}
}

// owners are the vehicles that own an input, those of used files too, in the order of
// the study, then "" for none.
func (p *Plan) owners() []string {
	var owners []string
	for _, f := range p.Factors {
		if owner, _ := Split(p.Drawn[f.Inputs[0]].Name); owner != "" && !slices.Contains(owners, owner) {
			owners = append(owners, owner)
		}
	}
	return append(owners, "")
}

// group joins the factors that belong to it.
func (p *Plan) group(name string, belongs func(Factor) bool) Factor {
	g := Factor{Name: name}
	for _, f := range p.Factors {
		if belongs(f) {
			g.Inputs = append(g.Inputs, f.Inputs...)
		}
	}
	return g
}

// holdsAny reports whether one of the factor's inputs has one of the names. What is
// tied to it comes with it.
func (p *Plan) holdsAny(f Factor, names []string) bool {
	return slices.Contains(names, f.Name) || slices.ContainsFunc(f.Inputs, func(i int) bool { return slices.Contains(names, p.Drawn[i].Name) })
}

// ownedBy reports whether all the factor's inputs belong to the vehicle, "" for
// none. Inputs of two vehicles that are tied belong to neither.
func (p *Plan) ownedBy(f Factor, vehicle string) bool {
	return !slices.ContainsFunc(f.Inputs, func(i int) bool {
		owner, _ := Split(p.Drawn[i].Name)
		return owner != vehicle
	})
}
