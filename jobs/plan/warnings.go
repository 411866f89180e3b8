package plan

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/vehicle"
)

// Warnings say what looks odd in a study that is not wrong: what a careful reader
// would ask about. What may make the answer wrong, such as a slip of size, comes first.
func (p *Plan) Warnings() []string {
	w := slices.Clone(p.odd)
	w = append(w, p.factsTwice()...)
	w = append(w, p.massBases()...)
	w = append(w, p.senses()...)
	w = append(w, p.credit()...)
	w = append(w, p.withoutSource()...)
	w = append(w, p.cut()...)
	w = append(w, p.unused()...)
	w = append(w, p.notTaken()...)
	w = append(w, p.poorlySpread()...)
	w = append(w, p.singleValues()...)
	w = append(w, p.tooFewRuns()...)
	w = append(w, p.dearScreening()...)
	w = append(w, p.idleGroups()...)
	return w
}

// OddSizes is how many of the warnings, the first ones, say that something is of no usual size.
func (p *Plan) OddSizes() int { return len(p.odd) }

func (p *Plan) withoutSource() []string {
	var names []string
	for _, in := range p.Study.Inputs {
		if in.Kind == study.Uncertain && !in.Free.Told() {
			names = append(names, in.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{"Uncertain, and nothing says how they are known: " + strings.Join(names, ", ") + "."}
}

// cut are distributions that ended where their quantity does: a share of a thousandth
// or less lay beyond.
func (p *Plan) cut() []string {
	var names []string
	for _, in := range p.Study.Inputs {
		if in.Cut > 0 {
			names = append(names, fmt.Sprintf("%s (%s; %.2g of it lay beyond)", in.Name, in.Text, in.Cut))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{"Cut off at the limits of the quantity: " + strings.Join(names, ", ") + "."}
}

// ofLine reports whether a name is of a line of a bill: most lines stand where they stood.
func ofLine(name string) bool {
	_, quantity := Split(name)
	return strings.HasPrefix(quantity, "bill.")
}

// unused are stated inputs that nothing asked for reads, but for what lines of a bill say.
func (p *Plan) unused() []string {
	if len(p.unread) == 0 {
		return nil
	}
	unread := slices.DeleteFunc(slices.Clone(p.unread), ofLine)
	if len(unread) == 0 {
		return nil
	}
	return []string{"Stated, but nothing that was asked for depends on them: " + strings.Join(unread, ", ") + "."}
}

// notTaken are quantities that a vehicle lost by stating what they are made from.
func (p *Plan) notTaken() []string {
	var w []string
	for _, v := range p.Study.Vehicles {
		if v.Run && v.NotTaken != "" {
			w = append(w, v.NotTaken+".")
		}
	}
	return w
}

func (p *Plan) massBases() []string {
	if p.Study.System == nil || len(p.otherBasis()) == 0 {
		return nil
	}
	var w []string
	for _, q := range p.Study.OnMassBasis() {
		w = append(w, fmt.Sprintf("%s is on different bases among the vehicles (mass_basis): its changes and differences are told on the baseline's, without the %d kg of driver that lie between.", q, vehicle.DriverMass))
	}
	return w
}

// otherBasis are the running vehicles whose masses are on another basis than the baseline's.
func (p *Plan) otherBasis() []study.Vehicle {
	var others []study.Vehicle
	base := p.vehicle(p.Study.Baseline)
	for _, v := range p.Study.Vehicles {
		if v.Run && v.MassBasis != base.MassBasis {
			others = append(others, v)
		}
	}
	return others
}

func (p *Plan) vehicle(name string) study.Vehicle {
	i := slices.IndexFunc(p.Study.Vehicles, func(v study.Vehicle) bool { return v.Name == name })
	return p.Study.Vehicles[i]
}

// Unstated says what the catalogue draws of a chain of cars though whoever knows the car
// knows it, where that decides something that is asked for.
func (p *Plan) Unstated() []string {
	var w []string
	for _, f := range p.Factors {
		owner, plain := Split(f.Name)
		if of, ok := p.Study.Catalogue.FactorNamed(plain); ok && of.Own && of.Note != "" && p.reachesAny(f) {
			w = append(w, "Of "+owner+" "+of.Note+".")
		}
	}
	return w
}

// Question says which question a gain answers: what physics gives, or whether a
// certified figure will show it.
func (p *Plan) Question() []string {
	var physics, certified []string
	for _, v := range p.Study.Vehicles {
		switch {
		case !v.Run || v.Name == p.Study.Baseline:
		case v.Certified:
			certified = append(certified, v.Name)
		default:
			physics = append(physics, v.Name)
		}
	}
	var w []string
	if len(physics) > 0 {
		text := "A certified figure may show the gains of " + strings.Join(physics, ", ") + " some 3 points off either way"
		if claims := p.certifiable(physics); len(claims) > 0 {
			text += ", which no verdict on " + strings.Join(claims, ", ") + " holds"
		}
		w = append(w, text+" (`certified: yes`; judgement, no source).")
	}
	if len(certified) > 0 {
		w = append(w, "Gains of "+strings.Join(certified, ", ")+" hold the scatter of a certification of its own, 2 % (judgement, no source).")
	}
	return w
}

// credit looks at what the pack is said to make unnecessary: the largest lever
// with the least evidence.
func (p *Plan) credit() []string {
	if p.Study.System == nil {
		return nil
	}
	var w []string
	for _, car := range running(p.Study) {
		for _, q := range p.Study.System.Quantities() {
			if q.Credit.Of != "" {
				w = append(w, p.credited(car, q)...)
			}
		}
	}
	return w
}

func (p *Plan) credited(car string, q model.Quantity) (w []string) {
	credit, ok := p.atMedians(car + "." + q.Name)
	if !ok {
		return nil
	}
	for _, share := range q.Credit.Within {
		whole, ok := p.atMedians(p.Study.Baseline + "." + share.Of)
		if !ok || !(credit > share.Most*whole) {
			continue
		}
		text := fmt.Sprintf("%s is credited with %.0f %s of %s, ", car, q.Unit.FromSI(credit), q.Unit, q.Credit.Of)
		if share.Most < 1 {
			text += fmt.Sprintf("%.0f %% of the baseline's %s: weigh those parts.", 100*credit/whole, share.Called)
		} else {
			text += fmt.Sprintf("more than the baseline's %s of %.0f %s.", share.Called, q.Unit.FromSI(whole), q.Unit)
		}
		w = append(w, text)
	}
	return w
}

// atMedians is a quantity where all that it is made from has its median, in SI; not known
// where it can't be had, or takes what nothing else asks for.
func (p *Plan) atMedians(name string) (float64, bool) {
	program, err := model.Compile([]string{name}, newGraph(p.Study).Rule)
	if err != nil {
		return 0, false
	}
	w, medians := program.NewWorker(1), p.medians()
	for i, in := range program.Inputs() {
		x, known := medians[in]
		if !known {
			return 0, false
		}
		w.Input(i)[0] = x
	}
	w.Run(1)
	return w.Output(0)[0], true
}

// medians are those of all constants and distributions, defaults included, in SI.
func (p *Plan) medians() map[string]float64 {
	m := map[string]float64{}
	for _, in := range slices.Concat(p.Study.Inputs, p.Defaults) {
		switch in.Kind {
		case study.Constant:
			m[in.Name] = in.Value
		case study.Uncertain:
			m[in.Name] = in.Marginal.Quantile(0.5)
		}
	}
	return m
}
