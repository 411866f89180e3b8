package schedule

import "math"

// onSlopes is the motion over a road that rises by grade, rise over run at the ends of the steps. The order of the steps is
// that of time.
func onSlopes(steps []Step, grade []float64) Motion {
	level := motionOf(steps) // for what does not know of slopes
	m := Motion{Rest: level.Rest, Slowest: level.Slowest}
	for i, s := range steps {
		if s.V == 0 {
			continue
		}
		rise := 0.5 * (grade[i] + grade[i+1])
		cos := 1 / math.Sqrt(math.FMA(rise, rise, 1))
		slope := Slope{Sin: rise * cos, Cos1: cos - 1}
		m.Steps = append(m.Steps, Moving{V: s.V, A: s.A, DT: s.DT, V2: s.V * s.V, Inverse: 1 / s.V})
		m.Slopes = append(m.Slopes, slope)
		way := float64(s.V * s.DT)
		m.SinV = math.FMA(slope.Sin, way, m.SinV)
		m.CosV1 = math.FMA(slope.Cos1, way, m.CosV1)
		m.CosV2 = math.FMA(float64(slope.Cos1*s.V), way, m.CosV2)
	}
	m.Time, m.V1, m.V2, m.V3, m.AV = level.Time, level.V1, level.V2, level.V3, level.AV
	return m
}

// Climb is how much higher the road ends than it began [m].
func (s *Schedule) Climb() float64 { return s.motion.SinV }
