package schedule

import (
	"math"
	"slices"
)

// Motion is a schedule cut down to what the energy of a car without a memory depends on: how long it is driven at each
// speed and acceleration, and how long it stands.
type Motion struct {
	// Steps are the distinct steps with V > 0, DT being the time spent in all that are alike. Steps in which a usual
	// car is driven come before those in which it brakes, so that a processor guesses the sign of the wheel force;
	// the order says nothing else.
	Steps []Step
	// Rest is the time at V = 0 [s].
	Rest float64
	// Slowest is the lowest V of Steps [m/s]; 0 if there is none.
	Slowest float64
	// Sums over Steps of DT, V DT, V2 DT, V3 DT and A V DT.
	Time, V1, V2, V3, AV float64
}

func motionOf(steps []Step) Motion {
	var m Motion
	type alike struct{ v, a float64 }
	place := make(map[alike]int, len(steps))
	for _, s := range steps {
		if s.V == 0 {
			m.Rest += s.DT
			continue
		}
		if at, seen := place[alike{s.V, s.A}]; seen {
			m.Steps[at].DT += s.DT
			continue
		}
		place[alike{s.V, s.A}] = len(m.Steps)
		m.Steps = append(m.Steps, s)
		if m.Slowest == 0 || s.V < m.Slowest {
			m.Slowest = s.V
		}
	}
	slices.SortStableFunc(m.Steps, func(s, t Step) int {
		switch p, q := pull(s), pull(t); {
		case p > q:
			return -1
		case p < q:
			return 1
		}
		return 0
	})
	for _, s := range m.Steps {
		v2 := float64(s.V * s.V)
		m.Time += s.DT
		m.V1 = math.FMA(s.V, s.DT, m.V1)
		m.V2 = math.FMA(v2, s.DT, m.V2)
		m.V3 = math.FMA(float64(v2*s.V), s.DT, m.V3)
		m.AV = math.FMA(float64(s.A*s.V), s.DT, m.AV)
	}
	return m
}

// pull is the wheel force per mass [m/s2] of a usual car: rolling 0.1, air 2e-4 v2 (common practice, no source).
func pull(s Step) float64 { return s.A + 0.1 + float64(2e-4*float64(s.V*s.V)) }
