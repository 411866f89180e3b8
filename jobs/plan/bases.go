package plan

import (
	"fmt"
	"slices"

	"proofmass/jobs/study"
	"proofmass/model/vehicle"
)

// bases finds claims that compare masses of which one holds a driver and of the other
// nothing says whether it does: what is taken for it decides them.
func (j *judge) bases() {
	p := j.plan
	if p.Study.System == nil {
		return
	}
	base := p.vehicle(p.Study.Baseline)
	for _, v := range p.otherBasis() {
		unsaid := v.Name
		switch {
		case v.BasisStated && base.BasisStated:
			continue
		case v.BasisStated:
			unsaid = base.Name
		}
		for _, q := range p.Study.OnMassBasis() {
			c := Contradiction{Name: v.Name + "." + q + "_change", Share: 1, Claims: []string{}, Text: fmt.Sprintf(
				"%s of %s is compared with that of %s, and nothing says whether a driver of %d kg is in that of %s (mass_basis: us_curb or eu_running_order)", q, v.Name, base.Name, vehicle.DriverMass, unsaid)}
			for _, claim := range p.Claims {
				if j.compares(claim.Name, v.Name+"."+q, base.Name+"."+q) {
					c.Claims = append(c.Claims, claim.Name)
				}
			}
			if len(c.Claims) > 0 {
				j.contradictions = append(j.contradictions, c)
			}
		}
	}
}

// compares reports whether a claim rests on a change of one quantity against the other, or
// names both.
func (j *judge) compares(claim, one, other string) bool {
	holds := study.HoldsName(claim)
	rests := j.x.restsOn(holds)
	if rests[one+"_change"] || rests[one+"_difference"] {
		return true
	}
	k, ok := j.x.number[holds]
	if !ok {
		return false
	}
	names := func(name string) bool {
		return slices.ContainsFunc(j.x.looks[k].needs, func(need int) bool { return j.x.looks[need].name == name })
	}
	return names(one) && names(other)
}
