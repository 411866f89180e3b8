package jobs

import "time"

// A Pace is how far a run is in time.
type Pace struct {
	Doing   string // the kind of slices, or the stage of tables, that it is at
	Elapsed time.Duration
	Left    time.Duration // foretold; what grows by rounds grows it
}

// Share is how far the run is, from 0 to 1.
func (p Pace) Share() float64 {
	return p.Elapsed.Seconds() / max(1e-9, (p.Elapsed+p.Left).Seconds())
}

// Classes of work, each with a speed of its own.
const (
	drawing  = iota // rows of the sample, with what it costs to store them
	swapping        // runs for sensitivity
	summing         // the table of statistics
	looking         // what figures show beside what was asked
	pulling         // what makes a gain and what a lever does, of each vehicle
	telling         // the tables of sensitivity
	showing         // those tables written, the answer made of them
	nothing         // what takes no time to speak of
	classes
)

var classOf = map[string]int{"given": nothing, "rounds": nothing, "sample": drawing, "summary": summing, "inside": looking,
	"causes": pulling, "levers": pulling, "sensitivity": telling, "answer": showing}

// What a unit of each class takes until its own speed is known: of tables beside what their
// unit was seen to take, since a row of many inputs takes long and says nothing of them; of
// the others beside a row of the sample. Seen on one machine, of a model that is dear and of
// one that is cheap.
var (
	ofVehicles = [classes]float64{drawing: 1, swapping: 0.11, summing: 1.3, looking: 0.025, pulling: 4, telling: 1, showing: 1}
	ofFormulas = [classes]float64{drawing: 1, swapping: 0.05, summing: 1, looking: 0, telling: 1, showing: 1}
)

// leastShare is how much of the sample is drawn before a time is told: of the first rows
// most goes to what every run begins with.
const leastShare = 0.05

// A pacer measures the speed of each class of work as it goes.
type pacer struct {
	slowness     *[classes]float64
	unit         float64 // seconds of what tables count as a run
	began, since time.Time
	doing        string
	done         [classes]int
	took         [classes]time.Duration
}

func (p *pacer) class() int {
	if c, known := classOf[p.doing]; known {
		return c
	}
	return swapping
}

// turn turns to another kind of work.
func (p *pacer) turn(doing string, now time.Time) {
	if p.began.IsZero() {
		p.began = now
	} else if p.doing != "" {
		p.took[p.class()] += now.Sub(p.since)
	}
	p.doing, p.since = doing, now
}

// knows reports whether enough of the sample is drawn, or was drawn before, to tell a time.
func (p *pacer) knows(all [classes]int) bool {
	return float64(p.done[drawing]) >= leastShare*float64(all[drawing]) || p.doing != "sample" && p.done[drawing] == 0
}

// pace foretells from what there is of each class in all. The speed of a class is at first
// what is thought of it, and more and more its own.
func (p *pacer) pace(all [classes]int, now time.Time) Pace {
	const thought = 0.1 // of a class, by which its thought speed weighs
	left, reference := 0.0, 0.0
	for c := range classes {
		took := p.took[c]
		if p.doing != "" && c == p.class() {
			took += now.Sub(p.since)
		}
		if all[c] == 0 {
			continue
		}
		tables := c == summing || c == telling || c == showing
		if !tables && reference == 0 { // seconds a row of the sample, as the first class has it
			if p.done[c] == 0 {
				continue
			}
			reference = took.Seconds() / float64(p.done[c]) / p.slowness[c]
		}
		rate := reference * p.slowness[c]
		if tables {
			rate = p.unit * p.slowness[c]
		}
		if p.done[c] > 0 {
			weight := thought * float64(all[c])
			rate = (took.Seconds() + rate*weight) / (float64(p.done[c]) + weight)
		}
		left += rate * float64(max(0, all[c]-p.done[c]))
	}
	return Pace{Doing: p.doing, Elapsed: now.Sub(p.began), Left: time.Duration(left * float64(time.Second))}
}
