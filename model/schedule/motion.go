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
	Steps []Moving
	// Rest is the time at V = 0 [s].
	Rest float64
	// Slowest is the lowest V of Steps [m/s]; 0 if there is none.
	Slowest float64
	// Sums over Steps of DT, V DT, V2 DT, V3 DT and A V DT.
	Time, V1, V2, V3, AV float64

	// Slopes are those of Steps, nil on the level; no two steps are then put together. SinV is the sum of Sin V DT, CosV1 and
	// CosV2 those of (Cos - 1) V DT and (Cos - 1) V2 DT.
	Slopes             []Slope
	SinV, CosV1, CosV2 float64
}

// A Slope is the angle of the road under a step: its sine, and its cosine less one.
type Slope struct{ Sin, Cos1 float64 }

// Moving is a step with V > 0 and what follows from its speed alone. An energy kernel that
// takes rows as lanes reads it as five numbers in this order.
type Moving struct {
	V, A, DT float64 // as in Step
	V2       float64 // V squared, rounded [m2/s2]
	Inverse  float64 // 1/V [s/m]
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
		m.Steps = append(m.Steps, Moving{V: s.V, A: s.A, DT: s.DT, V2: s.V * s.V, Inverse: 1 / s.V})
		if m.Slowest == 0 || s.V < m.Slowest {
			m.Slowest = s.V
		}
	}
	slices.SortStableFunc(m.Steps, func(s, t Moving) int {
		switch p, q := pull(s), pull(t); {
		case p > q:
			return -1
		case p < q:
			return 1
		}
		return 0
	})
	for _, s := range m.Steps {
		m.Time += s.DT
		m.V1 = math.FMA(s.V, s.DT, m.V1)
		m.V2 = math.FMA(s.V2, s.DT, m.V2)
		m.V3 = math.FMA(float64(s.V2*s.V), s.DT, m.V3)
		m.AV = math.FMA(float64(s.A*s.V), s.DT, m.AV)
	}
	return m
}

// pull is the wheel force per mass [m/s2] of a usual car: rolling 0.1, air 2e-4 v2 (common practice, no source).
func pull(s Moving) float64 { return s.A + 0.1 + float64(2e-4*s.V2) }
