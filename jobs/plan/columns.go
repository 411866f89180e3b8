package plan

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/study"
)

// wanted lists the program's outputs: every stored column, then the claims. It
// fills p.Columns, p.Claims and p.LeftOut.
func (g *graph) wanted(p *Plan) ([]string, error) {
	s := g.study
	c := collector{graph: g, plan: p, seen: map[string]bool{}}
	for _, in := range s.Inputs {
		c.must(in.Name)
	}
	for _, name := range g.headlineNames() {
		c.may(name)
	}
	for _, name := range g.companions() {
		c.quietly(name)
	}
	for _, claim := range s.Claims {
		for _, name := range claim.Expr.Names() {
			for _, level := range levels(name, s.Baseline) {
				c.quietly(level)
			}
			c.must(name)
		}
		for _, r := range claim.Readings {
			for _, level := range levels(r.Of, s.Baseline) {
				c.quietly(level)
			}
			c.must(r.Of)
		}
	}
	for _, o := range s.Outputs {
		for _, name := range o.Expr.Names() {
			c.must(name)
		}
		c.must(o.Name)
	}
	for i := range s.Facts {
		c.must(s.Facts[i].Of)
	}
	for i := range s.Gauges {
		c.must(s.Gauges[i].Of)
	}
	for _, name := range s.ComparedOutputs() {
		c.must(name)
	}
	for _, name := range s.Indices.Of {
		if name != study.AllClaims && !slices.ContainsFunc(s.Claims, func(c study.Claim) bool { return c.Name == name }) {
			c.must(name)
		}
	}
	c.aside = true
	if s.Keep == "all" && s.System != nil {
		for _, v := range running(s) {
			for _, name := range s.System.Outputs(v) {
				c.may(name)
			}
		}
	}
	if c.err != nil {
		return nil, c.err
	}
	c.addDefaults()
	return c.claims(), c.err
}

// headlineNames are the headline quantities of every vehicle, and each
// candidate's changes of them.
func (g *graph) headlineNames() []string {
	if g.study.System == nil {
		return nil
	}
	var names []string
	opening := g.study.Headline()
	for _, v := range running(g.study) {
		for _, q := range opening {
			names = append(names, v+"."+q)
		}
	}
	for _, v := range running(g.study) {
		for _, q := range opening {
			if v != g.study.Baseline {
				names = append(names, v+"."+q+"_change")
			}
		}
	}
	return names
}

// companions are what a reader of the headline quantities needs beside them, where
// it can be had: the quantities that stand beside others, or their changes.
func (g *graph) companions() []string {
	if g.study.System == nil {
		return nil
	}
	var names []string
	for _, v := range running(g.study) {
		outputs := g.study.System.Outputs(v)
		for _, name := range outputs {
			q := g.quantity(name)
			switch {
			case q.Beside == "" || !slices.Contains(outputs, v+"."+q.Beside):
			case !q.ByChange:
				names = append(names, name)
			case v != g.study.Baseline:
				names = append(names, name+"_change")
			}
		}
	}
	return names
}

// levels are what a change or a difference is made of, so that a reader sees both
// beside it.
func levels(name, baseline string) []string {
	v, q := Split(name)
	for _, suffix := range []string{"_change", "_difference"} {
		if base, found := strings.CutSuffix(q, suffix); found && v != "" {
			return []string{baseline + "." + base, v + "." + base}
		}
	}
	return nil
}

// running are the vehicles that the study itself names.
func running(s *study.Study) []string {
	var names []string
	for _, v := range s.Vehicles {
		if v.Run {
			names = append(names, v.Name)
		}
	}
	return names
}

// collector gathers columns in order, each once.
type collector struct {
	*graph
	plan *Plan
	seen map[string]bool
	err  error

	aside bool // what is added now is stored and not asked for
}

// must adds a column that the study asks for; that it cannot be had is an error.
func (c *collector) must(name string) {
	if err := c.canHave(name); err != nil && c.err == nil {
		c.err = fmt.Errorf("plan: %s: %s", name, missing(err))
	}
	c.add(name)
}

// may adds a column if it can be had, and says why where it cannot.
func (c *collector) may(name string) {
	if c.seen[name] {
		return
	}
	if err := c.canHave(name); err != nil {
		c.plan.LeftOut = append(c.plan.LeftOut, LeftOut{name, missing(err)})
		return
	}
	c.add(name)
}

// quietly adds a column if it can be had.
func (c *collector) quietly(name string) {
	if c.canHave(name) == nil {
		c.add(name)
	}
}

func (c *collector) add(name string) {
	if c.seen[name] || c.hidden(name) {
		return
	}
	c.seen[name] = true
	column := Column{Name: name, Output: len(c.plan.Columns), Quantity: c.quantity(name), Aside: c.aside}
	column.Input, _ = c.Input(name)
	c.plan.Columns = append(c.plan.Columns, column)
}

// addDefaults stores what the catalogue supplied, so that no assumption is hidden; a
// hidden number is shown as the quantities that it makes.
func (c *collector) addDefaults() {
	for i := 0; i < len(c.defaults); i++ { // what is shown may take more of them
		name := c.defaults[i].Name
		for _, shown := range c.shownAs(name) {
			c.quietly(shown)
		}
		c.add(name)
	}
}

// hidden reports whether a default has no column of its own.
func (g *graph) hidden(name string) bool { return len(g.shownAs(name)) > 0 }

// shownAs are the columns that stand for a hidden default, none for any other name: what
// it makes of the first vehicle of each chain that reads it.
func (g *graph) shownAs(name string) []string {
	in, ok := g.Input(name)
	if !ok || !in.Default || len(g.quantity(name).ShownAs) == 0 {
		return nil
	}
	if columns, known := g.shown[name]; known {
		return columns
	}
	var columns []string
	for _, q := range g.quantity(name).ShownAs {
		chains := map[string]bool{}
		for _, c := range g.study.Cars {
			chain := g.study.System.Chain(c.Name)
			if column := c.Name + "." + q; !chains[chain] && slices.Contains(running(g.study), c.Name) && g.makes(column, name) {
				chains[chain] = true
				columns = append(columns, column)
			}
		}
	}
	g.shown[name] = columns
	return columns
}

// makes reports whether a column is computed and reads the input.
func (g *graph) makes(column, input string) bool {
	_, stated := g.Input(column)
	return !stated && g.canHave(column) == nil && g.Reach(column)[input]
}

// claims appends the claims to the columns' names and returns all.
func (c *collector) claims() []string {
	names := make([]string, 0, len(c.plan.Columns)+2*len(c.study.Claims)+1) // and the readings
	for _, column := range c.plan.Columns {
		names = append(names, column.Name)
	}
	for _, s := range c.study.Claims {
		claim := Claim{Name: s.Name, Text: s.Text, Holds: len(names), Margin: -1, Unit: s.MarginUnit, Of: s.Of}
		names = append(names, study.HoldsName(s.Name))
		if s.Margin != nil {
			claim.Margin = len(names)
			names = append(names, study.MarginName(s.Name))
		}
		for i, r := range s.Readings {
			claim.Readings = append(claim.Readings, ReadClaim{Of: r.Of, Text: r.Text, Holds: len(names)})
			names = append(names, study.ReadingName(s.Name, i+1))
		}
		c.plan.Claims = append(c.plan.Claims, claim)
	}
	if len(c.study.Claims) > 1 {
		c.plan.Claims = append(c.plan.Claims, Claim{Name: study.AllClaims, Text: "all of the above in the same draw", Holds: len(names), Margin: -1})
		names = append(names, study.HoldsName(study.AllClaims))
	}
	return names
}
