package traction

import "proofmass/model/schedule"

// A form is how the quick loop is run: a row at a time in plain Go, or several rows in the
// lanes of vector registers. Every form gives the same bits; which one is chosen depends
// on the processor alone.
type form struct {
	name  string
	lanes int // rows of a group, two vectors; 0: a row at a time
}

//go:generate go run ./generate -out lanes_amd64.s -stubs lanes_amd64.go -pkg traction

var plain = form{name: "plain Go"}

// chosen is fixed when the program starts; tests go through all that the processor has.
var chosen = forms()[0]

const mostLanes = 16

// Places of a row's constants in a group, then of its sums: a column of lanes each. The
// generator has the same list.
const (
	inF0 = iota
	inF1
	inF2
	inInertia
	inDrive
	inBrake
	inLow
	inFade
	inLimit
	inTorque
	inSpin
	inCubic
	inFixed
	inVolt
	inVolt2
	inR4
	outCharge
	outHeat
	outPositive
	outNegative
	outBack
	outRim2
	places
)

// A group gathers rows for which the quick loop is right and runs them together.
type group struct {
	form
	motion *schedule.Motion
	count  int
	rows   [mostLanes]row
	at     [mostLanes]int // the rows' numbers in the block
	lanes  [places * mostLanes]float64
}

// few rows are not worth a group: the lanes take the same time however many are in use.
const few = 2

// add takes the row that was loaded behind the gathered ones, row i of the block, into the
// group and reports whether that is full.
func (g *group) add(i int) bool {
	g.at[g.count] = i
	g.count++
	return g.count >= g.form.lanes
}

// run evaluates the gathered rows, all flows or the charge alone. Lanes without a row
// repeat the last one.
func (g *group) run(flows bool) {
	width := g.form.lanes
	for lane := range width {
		g.pack(&g.rows[min(lane, g.count-1)], lane, width)
	}
	g.form.call(&g.lanes, g.motion.Steps, flows)
}

func (g *group) pack(c *row, lane, width int) {
	for place, x := range [...]float64{
		inF0: c.f0, inF1: c.f1, inF2: c.f2, inInertia: c.inertia, inDrive: c.drive, inBrake: c.brake, inLow: c.low, inFade: c.fade, inLimit: c.limit,
		inTorque: c.torque, inSpin: c.spin, inCubic: c.cubic, inFixed: c.idle + c.aux, inVolt: c.volt, inVolt2: c.volt2, inR4: -4 * c.r,
	} {
		g.lanes[place*width+lane] = x
	}
}

// sum is one of a row's sums after run.
func (g *group) sum(place, lane int) float64 { return g.lanes[place*g.form.lanes+lane] }

// totals writes the energies of the gathered rows and empties the group.
func (g *group) totals(energy []float64) {
	together := g.count > few
	if together {
		g.run(false)
	}
	for lane := range g.count {
		c := &g.rows[lane]
		if together {
			energy[g.at[lane]] = finite(c.chemical(g.sum(outCharge, lane), g.motion))
		} else {
			energy[g.at[lane]] = finite(c.folded(g.motion))
		}
	}
	g.count = 0
}

// splits writes where the energy of the gathered rows goes and empties the group.
func (g *group) splits(columns *[sinks][]float64) {
	together := g.count > few
	if together {
		g.run(true)
	}
	for lane := range g.count {
		c := &g.rows[lane]
		if together {
			f := flows{charge: g.sum(outCharge, lane), heat: g.sum(outHeat, lane), positive: g.sum(outPositive, lane),
				negative: g.sum(outNegative, lane), back: g.sum(outBack, lane), rim2: g.sum(outRim2, lane)}
			c.split(columns, g.at[lane], c.unfold(f, g.motion), g.motion)
		} else {
			c.split(columns, g.at[lane], c.foldedFlows(g.motion), g.motion)
		}
	}
	g.count = 0
}
