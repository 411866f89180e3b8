package study

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/sampling/copula"
)

// mostTied bounds the inputs of a group.
const mostTied = 100

const tieForms = "a group is {inputs: [names], spearman: number} or {inputs: [names], matrix: [a row for each input]}"

// together reads the groups of inputs that are not independent.
func (r *reader) together(v source.Field) {
	list, ok := v.List("together is a list of groups: [{inputs: [a, b], spearman: 0.5}]")
	if !ok || !v.AtMost(source.MostEntries, "groups") {
		return
	}
	for _, f := range list {
		if d := readTie(f); d != nil {
			r.ties = append(r.ties, d)
		}
	}
}

// readTie reads one group, nil where it is wrong.
func readTie(f source.Field) *tieDecl {
	d := &tieDecl{value: f}
	d.Place = f.Place()
	var inputs, spearman, matrix *source.Field
	into := func(to **source.Field) func(v source.Field) { return func(v source.Field) { *to = &v } }
	before := f.Errors().Count()
	uncertain.FreeKeys(&d.Free).With(source.Handlers{"inputs": into(&inputs), "spearman": into(&spearman), "matrix": into(&matrix)}).Read(f, "a group of together")
	if f.Errors().Count() > before || !tieNeeds(f, inputs, spearman, matrix) {
		return nil
	}
	var ok bool
	if d.names, ok = inputs.List("inputs is a list of names"); !ok {
		return nil
	}
	if n := len(d.names); n < 2 || n > mostTied {
		inputs.Err(counted(n, "input"), fmt.Sprintf("2 to %d are tied together", mostTied))
		return nil
	}
	if spearman != nil {
		d.at, d.alike = *spearman, true
		ok = d.fill(*spearman)
	} else {
		d.at = *matrix
		ok = d.rows(*matrix)
	}
	if !ok {
		return nil
	}
	return d
}

// tieNeeds refuses a group of which a part is missing, or stands twice.
func tieNeeds(f source.Field, inputs, spearman, matrix *source.Field) bool {
	wrong := ""
	switch {
	case inputs == nil:
		wrong = "no inputs"
	case spearman != nil && matrix != nil:
		wrong = "both spearman and matrix"
	case spearman == nil && matrix == nil:
		wrong = "neither spearman nor matrix"
	default:
		return true
	}
	f.Err(wrong, tieForms)
	return false
}

// counted is a number of things with their name.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// correlation reads Spearman's rank correlation of two inputs.
func correlation(f source.Field) (float64, bool) {
	x, ok := uncertain.Plain(f, "a rank correlation")
	if ok && !(x >= -1 && x <= 1) {
		f.Err(f.What(), "a rank correlation is from -1 to 1")
		return x, false
	}
	return x, ok
}

// fill gives all pairs the same correlation.
func (d *tieDecl) fill(f source.Field) bool {
	x, ok := correlation(f)
	for i := range d.names {
		row := slices.Repeat([]float64{x}, len(d.names))
		row[i] = 1
		d.Spearman = append(d.Spearman, row)
	}
	return ok
}

// rows reads the whole matrix.
func (d *tieDecl) rows(f source.Field) bool {
	const allowed = "a matrix has a row for each input, each with a number for each input, as in [[1, 0.3], [0.3, 1]]"
	rows, ok := f.List(allowed)
	if !ok {
		return false
	}
	if len(rows) != len(d.names) {
		f.Err(counted(len(rows), "row")+" for "+counted(len(d.names), "input"), allowed)
		return false
	}
	for _, row := range rows {
		cells, isList := row.List(allowed)
		if !isList {
			return false
		}
		if len(cells) != len(d.names) {
			row.Err(counted(len(cells), "number")+" for "+counted(len(d.names), "input"), allowed)
			return false
		}
		numbers := make([]float64, len(cells))
		for j, cell := range cells {
			x, good := correlation(cell)
			numbers[j], ok = x, ok && good
		}
		d.Spearman = append(d.Spearman, numbers)
	}
	return ok && d.symmetric(rows)
}

// symmetric refuses a matrix that says two things of one pair.
func (d *tieDecl) symmetric(rows []source.Field) bool {
	for i, row := range d.Spearman {
		cells, _ := rows[i].List("")
		if row[i] != 1 {
			cells[i].Err(cells[i].What(), "an input's correlation with itself is 1")
			return false
		}
		for j := range i {
			if row[j] != d.Spearman[j][i] {
				cells[j].Err(fmt.Sprintf("%s, but %v in row %d", cells[j].What(), d.Spearman[j][i], j+1), "both places give the same pair the same number")
				return false
			}
		}
	}
	return true
}

const tied = "what is tied"

// checkTies resolves the names of the groups and refuses what no inputs can be.
func (r *resolver) checkTies() {
	seen := map[string]bool{}
	for _, d := range r.ties {
		for _, f := range d.names {
			name, ok := f.Text("the name of an input is expected")
			d.Inputs = append(d.Inputs, name)
			switch {
			case ok && r.calledFactor(name) != "":
				f.Err(source.Quote(name)+" is "+r.calledFactor(name), "it is not tied: "+tied+" is an uncertain input that the study states")
				d.broken = true
			case !ok || !r.uncertain(f, name, tied):
				d.broken = true
			case seen[name]:
				f.Err(source.Quote(name)+" is tied twice", "an input stands once in all groups; a matrix ties three and more as they are")
				d.broken = true
			default:
				seen[name] = true
			}
		}
		var err error
		if d.Dependence, err = copula.NewDependence(d.Spearman); err != nil {
			d.impossible(err)
		}
	}
}

// impossible says what stands in the way and what is nearest.
func (d *tieDecl) impossible(err error) {
	e := new(copula.Impossible)
	if !errors.As(err, &e) {
		d.at.Err(source.Printable(err.Error(), 200), "")
		return
	}
	var names []string
	for _, i := range e.Inputs[:min(len(e.Inputs), 4)] {
		names = append(names, d.Inputs[i])
	}
	if more := len(e.Inputs) - len(names); more > 0 {
		names = append(names, fmt.Sprintf("%d more", more))
	}
	d.at.Err(source.Printable(source.Listed(names, "and"), 200)+" cannot be correlated so all at once", d.nearest(e))
}

func (d *tieDecl) nearest(e *copula.Impossible) string {
	if d.alike {
		return fmt.Sprintf("%d inputs that are all alike have at least %s", len(d.Inputs), inward(d.Spearman[0][1]*e.Factor, math.Ceil))
	}
	all := fmt.Sprintf("all numbers but the 1 can be %s times what they are", inward(e.Factor, math.Floor))
	if e.Low != e.Low {
		return all
	}
	return fmt.Sprintf("with the others as they are, %s and %s can have %s to %s; or %s", d.Inputs[e.Pair[0]], d.Inputs[e.Pair[1]],
		inward(e.Low, math.Ceil), inward(e.High, math.Floor), all)
}

// inward writes a limit to three decimals, rounded to the side that is allowed.
func inward(x float64, round func(float64) float64) string {
	if near := math.Round(1000*x) / 1000; math.Abs(near-x) < 1e-12 {
		return fmt.Sprintf("%g", near)
	}
	return fmt.Sprintf("%g", round(1000*x)/1000)
}

// tiesInUse refuses to tie what only a template states that no vehicle is based on.
func (r *resolver) tiesInUse() {
	used := r.inUse()
	for _, d := range r.ties {
		r.refuseUnused(d.Inputs, d.names, used, tied)
		r.s.Together = append(r.s.Together, d.Tie)
		r.s.past(source.Listed(d.Inputs, "and")+" together", d.Free)
	}
}
