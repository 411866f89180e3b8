// Package likelihood has what a measurement says of the true value of what was measured: the
// density of what the instrument shows, of a rounded reading its chance, as a function of that
// value. Every number has equal bits on every machine.
package likelihood

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
	"proofmass/sampling/special"
)

// A Likelihood is what one measurement says. The zero value says nothing that can be used; it
// never changes once made and serves all goroutines.
type Likelihood struct {
	form          form
	value, spread float64 // of between: the middle, and half of what lies between
	half          float64 // of what a reading is rounded to
	tail          special.StudentTail
	greatest      float64 // logarithm of the density's greatest value
}

type form int

const (
	normal form = iota
	rounded
	between
	student
)

// narrow is the share of the error below which the chance of a step is the density times its
// width, to 1 part in 1e10 as far as 40 standard deviations: the difference of two chances so
// nearly alike has few digits, and in the end none.
const narrow = 1e-6

// logRootTwoPi is ln sqrt(2 pi).
const logRootTwoPi = 0.91893853320467274178

// Normal is a reading with a normal error of standard deviation sd.
func Normal(value, sd float64) (Likelihood, error) {
	l := Likelihood{form: normal, value: value, spread: sd}
	if err := l.check(); err != nil {
		return Likelihood{}, err
	}
	l.greatest = -portable.Log(sd) - logRootTwoPi
	return l, nil
}

// Rounded is Normal for a reading that was rounded to steps of the given width: the chance of
// the whole step.
func Rounded(value, sd, step float64) (Likelihood, error) {
	l := Likelihood{form: rounded, value: value, spread: sd, half: step / 2}
	if err := l.check(); err != nil {
		return Likelihood{}, err
	}
	if !(step > 0) || math.IsInf(step, 0) {
		return Likelihood{}, fmt.Errorf("the step %v must be above 0", step)
	}
	l.greatest = l.log(value)
	return l, nil
}

// Between is an instrument that says no more than that the value lies from low to high, ends
// included.
func Between(low, high float64) (Likelihood, error) {
	l := Likelihood{form: between, value: low + (high-low)/2, spread: (high - low) / 2}
	if err := l.check(); err != nil {
		return Likelihood{}, err
	}
	l.greatest = -portable.Log(high - low)
	return l, nil
}

// Student is a reading whose error is Student's t with that many degrees of freedom times
// scale.
func Student(freedom, value, scale float64) (Likelihood, error) {
	l := Likelihood{form: student, value: value, spread: scale}
	if err := l.check(); err != nil {
		return Likelihood{}, err
	}
	if !(freedom >= 1 && freedom <= 2e5) {
		return Likelihood{}, fmt.Errorf("%v degrees of freedom; 1 to 200000 are possible", freedom)
	}
	l.tail = special.NewStudentTail(freedom)
	l.greatest = portable.Log(l.tail.Peak()) - portable.Log(scale)
	return l, nil
}

func (l *Likelihood) check() error {
	switch {
	case l.value-l.value != 0:
		return fmt.Errorf("the value %v must be a finite number", l.value)
	case !(l.spread > 0) || math.IsInf(l.spread, 0):
		return fmt.Errorf("the error %v must be above 0 and finite", l.spread)
	}
	return nil
}

// AddLog adds the logarithm of the likelihood of each true value x to sum: -Inf where the
// reading could not come of it, and where x is NaN. len(sum) = len(x).
func (l *Likelihood) AddLog(sum, x []float64) {
	for i, v := range x {
		if v != v {
			sum[i] = math.Inf(-1)
			continue
		}
		sum[i] += l.log(v)
	}
}

func (l *Likelihood) log(x float64) float64 {
	z := (x - l.value) / l.spread
	switch l.form {
	case rounded:
		if step := 2 * l.half; step < narrow*l.spread {
			return portable.Log(step/l.spread) - logRootTwoPi - float64(z*z)/2
		}
		far := math.Abs(x - l.value) // the chance is that of the same step on the other side
		return portable.Log(portable.NormalSurvival((far-l.half)/l.spread) - portable.NormalSurvival((far+l.half)/l.spread))
	case between:
		if math.Abs(z) > 1 {
			return math.Inf(-1)
		}
		return l.greatest
	case student:
		return l.greatest - float64((l.tail.Nu+1)/2*portable.Log1p(float64(z*z)/l.tail.Nu))
	}
	return l.greatest - float64(z*z)/2
}

// Greatest is the logarithm of the greatest value that the likelihood has.
func (l *Likelihood) Greatest() float64 { return l.greatest }

// Below is the chance that the instrument would have shown less than it did, were x the true
// value: half of it where it shows the same. Averaged over draws it is where the reading lies
// among those that were to be expected.
func (l *Likelihood) Below(x float64) float64 {
	z := (l.value - x) / l.spread
	switch l.form {
	case between: // as likely to show any value so near
		return min(1, max(0, (1+z)/2))
	case student:
		if z > 0 {
			return 1 - l.tail.Chance(z)
		}
		return l.tail.Chance(-z)
	}
	return portable.NormalCDF(z)
}

// Value is what the instrument shows; of between the middle.
func (l *Likelihood) Value() float64 { return l.value }

// SD is the standard deviation of the error: infinite for Student's t of 2 degrees of freedom
// and less.
func (l *Likelihood) SD() float64 {
	switch l.form {
	case between:
		return l.spread / math.Sqrt(3)
	case student:
		if l.tail.Nu <= 2 {
			return math.Inf(1)
		}
		return l.spread * math.Sqrt(l.tail.Nu/(l.tail.Nu-2))
	case rounded:
		return math.Sqrt(float64(l.spread*l.spread) + float64(l.half*l.half)/3)
	}
	return l.spread
}
