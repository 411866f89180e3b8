package traction

import (
	"math"

	"proofmass/model/schedule"
)

// Sinks are columns of energies [J] of one run of a schedule. A nil column is not wanted. The first ten add up to Total;
// none of them is made as the remainder of the others.
type Sinks struct {
	Rolling, SpeedTerm, Aero, Grade []float64 // work against the resistances of the road
	Kinetic                         []float64 // gain of kinetic energy: nil from rest to rest
	FrictionBrakes                  []float64 // braking not recovered
	Gear, DriveUnit                 []float64
	Auxiliaries                     []float64
	Battery                         []float64 // loss in the inner resistance

	Total          []float64 // the same as the function Total gives, bit for bit
	Terminal       []float64 // energy at the battery's terminals: Total without Battery
	PositiveWheel  []float64 // work of the wheels where they drive
	NegativeWheel  []float64 // work of the wheels where they brake, counted positive
	RecoveredWheel []float64 // the part of NegativeWheel that is recovered, at the wheels
}

// Split fills the columns of out that are not nil, all of one length n, with where the energy of each row goes; NaN where
// the row is infeasible. Each column of car must have at least n rows.
func Split(out *Sinks, car *Car, s *schedule.Schedule) {
	columns := out.columns()
	g := group{form: chosen, motion: s.Motion()}
	for i := range rowsOf(&columns) {
		g.split(&columns, car, i)
	}
	g.splits(&columns)
}

// rowsOf is how many rows the columns have that are wanted.
func rowsOf(columns *[sinks][]float64) int {
	n := 0
	for _, column := range columns {
		n = max(n, len(column))
	}
	return n
}

// split evaluates row i, or gathers it to be evaluated with others.
func (g *group) split(columns *[sinks][]float64, car *Car, i int) {
	c := &g.rows[g.count]
	switch {
	case !c.load(car, i):
		put(columns, i, &infeasible)
	case !c.quick(g.motion):
		c.split(columns, i, c.generalFlows(g.motion), g.motion)
	case g.form.lanes == 0:
		c.split(columns, i, c.foldedFlows(g.motion), g.motion)
	case g.add(i):
		g.splits(columns)
	}
}

// put writes row i of the columns that are wanted.
func put(columns *[sinks][]float64, i int, sums *[sinks]float64) {
	for j, column := range columns {
		if column != nil {
			column[i] = sums[j]
		}
	}
}

// split writes row i of the columns from the car's flows while it is driven.
func (c *row) split(columns *[sinks][]float64, i int, f flows, m *schedule.Motion) {
	f = c.atRest(f, m)
	if !isFinite(f.charge * c.volt) {
		put(columns, i, &infeasible)
		return
	}
	sums := c.sinks(&f, m)
	put(columns, i, &sums)
}

// Places of the columns of Sinks in an array.
const (
	rolling = iota
	speedTerm
	aero
	grade
	kinetic
	frictionBrakes
	gear
	driveUnit
	auxiliaries
	battery
	total
	terminal
	positiveWheel
	negativeWheel
	recoveredWheel
	sinks
)

func (out *Sinks) columns() [sinks][]float64 {
	return [sinks][]float64{
		rolling: out.Rolling, speedTerm: out.SpeedTerm, aero: out.Aero, grade: out.Grade, kinetic: out.Kinetic,
		frictionBrakes: out.FrictionBrakes, gear: out.Gear, driveUnit: out.DriveUnit,
		auxiliaries: out.Auxiliaries, battery: out.Battery,
		total: out.Total, terminal: out.Terminal,
		positiveWheel: out.PositiveWheel, negativeWheel: out.NegativeWheel, recoveredWheel: out.RecoveredWheel,
	}
}

var infeasible = func() (all [sinks]float64) {
	for j := range all {
		all[j] = math.NaN()
	}
	return all
}()
