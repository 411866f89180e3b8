package traction

import (
	"math"

	"proofmass/model/schedule"
)

// An interval is an interval of numbers, both ends included.
type interval struct{ low, high float64 }

func (a interval) plus(b interval) interval { return interval{a.low + b.low, a.high + b.high} }

func (a interval) times(b interval) interval {
	p, q, r, s := float64(a.low*b.low), float64(a.low*b.high), float64(a.high*b.low), float64(a.high*b.high)
	return interval{min(p, q, r, s), max(p, q, r, s)}
}

// inverse is that of positive numbers.
func (a interval) inverse() interval { return interval{1 / a.high, 1 / a.low} }

func (a interval) by(x float64) interval { return a.times(interval{x, x}) }

// limits are what rows of a box have between them, in intervals: wider than the truth, since
// each number counts as if the others did not depend on it.
type limits struct {
	inertia, still, slope, air, wind interval // of the force on the road
	drive, brake, most               interval // most: power recovered at the shaft, positive
	low, high                        interval // fade speeds
	torque, spin, cubic, fixed       interval
	volt, r                          interval
}

// limitsOf are those of cars between the two rows of a box.
func limitsOf(box *Car) limits {
	of := func(column []float64) interval { return interval{column[0], column[1]} }
	radius, efficiency := of(box.WheelRadius), of(box.GearEfficiency)
	turn := of(box.GearRatio).times(radius.inverse())
	square := turn.times(turn)
	return limits{
		inertia: of(box.Mass).times(interval{1, 1}.plus(of(box.RotatingShare))),
		still:   of(box.RollingForce).plus(of(box.GradeForce)), slope: of(box.RollingSlope).plus(of(box.SpeedTerm)),
		air: of(box.AeroFactor), wind: of(box.HeadWind),
		drive: efficiency.inverse(), brake: efficiency.times(of(box.RegenShare)), most: efficiency.times(of(box.RegenPowerLimit)),
		low: of(box.RegenFadeLow), high: of(box.RegenFadeHigh),
		torque: of(box.TorqueLoss).times(square.inverse()), spin: of(box.SpinLoss).times(turn), cubic: of(box.SpinCubicLoss).times(turn.times(square)),
		fixed: of(box.IdleLoss).plus(of(box.Auxiliaries)), volt: of(box.Voltage), r: of(box.Resistance),
	}
}

// certain reports which steps are so for each row between the limits: none of the kernel's
// branches can change, and the step cannot be the one that the battery fails first. On
// these a row's energy is smooth in what makes the row.
func (l *limits) certain(steps []schedule.Moving) []bool {
	certain := make([]bool, len(steps))
	power := make([]interval, len(steps))
	peak := 0
	for j := range steps {
		power[j], certain[j] = l.step(&steps[j])
		if power[j].low > power[peak].low {
			peak = j
		}
	}
	for j := range steps {
		given := float64(l.volt.low*l.volt.low) - float64(4*l.r.high*max(power[j].high, 0))
		if !(given > 0) && (j == peak || !(power[j].high < power[peak].low)) {
			certain[j] = false
		}
	}
	return certain
}

// step is the power at the battery's terminals in one step [W], and whether no branch of
// the kernel can change in it.
func (l *limits) step(s *schedule.Moving) (power interval, certain bool) {
	through := l.wind.plus(interval{s.V, s.V})
	square := interval{through.low * math.Abs(through.low), through.high * math.Abs(through.high)}
	force := l.inertia.by(s.A).plus(l.still).plus(l.slope.by(s.V)).plus(l.air.times(square))
	certain = through.low > 0 || through.high < 0
	var shaft interval
	switch {
	case force.low > 0:
		shaft = force.times(l.drive)
	case force.high <= 0:
		shaft = force.times(l.brake)
		certain = certain && l.fadeCertain(s.V) && shaft.low > -float64(l.most.low*s.Inverse)
		shaft.high = 0 // it may fade out
	default:
		shaft = interval{min(0, force.times(l.brake).low), max(0, force.times(l.drive).high)}
		certain = false
	}
	wheel := shaft.times(interval{s.V, s.V}.plus(l.torque.times(shaft)))
	spin := l.spin.plus(l.cubic.by(s.V2)).by(s.V)
	power = wheel.plus(spin).plus(l.fixed)
	return power, certain && power.low <= power.high // false for NaN
}

// fadeCertain: recovery has surely not begun to fade in, surely reached its share, or is
// surely between.
func (l *limits) fadeCertain(v float64) bool {
	return v < l.low.low || v > l.high.high || v > l.low.high && v < l.high.low
}
