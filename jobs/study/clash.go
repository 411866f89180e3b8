package study

import (
	"strings"

	"proofmass/jobs/study/source"
)

// columns finds names that would give two columns of the sample tables one name:
// there a vehicle and its quantity are joined by _ instead of a dot.
type columns struct {
	first map[string]string // by column, the name that has it
	told  map[string]bool
}

// add takes a name and reports it at the field if its column is another's.
func (c *columns) add(f source.Field, name string) {
	c.column(f, name, strings.ReplaceAll(name, ".", "_"))
}

// column is add for what is called otherwise than its column.
func (c *columns) column(f source.Field, name, column string) {
	first, taken := c.first[column]
	if !taken {
		c.first[column] = name
		return
	}
	if first != name && !c.told[column] {
		c.told[column] = true
		f.Err(name+" and "+first+" would share the column "+column, "choose another name")
	}
}

// clashes refuses names that would share a column.
func (r *resolver) clashes() {
	c := &columns{map[string]string{}, map[string]bool{}}
	if r.s.System != nil {
		for _, v := range r.s.Vehicles {
			key := r.vehicle(v.Name).key
			for _, name := range r.s.System.Outputs(v.Name) {
				c.add(key, name)
				if v.Name != r.s.Baseline {
					c.add(key, name+"_change")
					c.add(key, name+"_difference")
				}
			}
		}
	}
	for _, st := range r.statements() {
		c.add(st.key, st.Name)
	}
	for _, o := range r.outputs {
		if r.statement(o.Name) != nil {
			o.key.Err(source.Quote(o.Name)+" is an input too", "an input and an output may not share a name")
		}
		c.add(o.key, o.Name)
	}
	for _, claim := range r.claims {
		if r.statement(claim.Name) != nil {
			claim.key.Err(source.Quote(claim.Name)+" is an input too", "an input and a claim may not share a name")
		}
		c.add(claim.key, claim.Name)
		if claim.Margin != nil {
			c.column(claim.key, "the margin of "+claim.Name, MarginColumn(claim.Name))
		}
		for i := range claim.Readings {
			c.add(claim.key, ReadingColumn(claim.Name, i+1))
		}
	}
}
