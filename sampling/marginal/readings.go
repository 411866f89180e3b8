package marginal

import (
	"fmt"
	"math"
)

// leastReadings is what gives Student's t of the mean a finite sd.
const leastReadings = 4

// Readings returns what repeated readings of one thing say of it: Student's t
// about their mean with n-1 degrees of freedom and the scale s/sqrt(n), s being
// the sd of the readings. At least 4 readings, not all equal. Its sd is wider
// than s/sqrt(n) by sqrt((n-1)/(n-3)), for s itself is known from n readings
// only. Source: JCGM 100:2008, 4.2 (type A); JCGM 101:2008, 6.4.9.
func Readings(x []float64) (Marginal, error) {
	if len(x) < leastReadings {
		return nil, fmt.Errorf("%d readings; at least %d are needed, for with fewer Student's t has no sd", len(x), leastReadings)
	}
	low, high := x[0], x[0]
	for _, v := range x {
		if err := checkFinite(parameter{"a reading", v}); err != nil {
			return nil, err
		}
		low, high = min(low, v), max(high, v)
	}
	switch {
	case low == high:
		return nil, fmt.Errorf("all readings are %v; what never varies says nothing of its own uncertainty", low)
	case math.IsInf(high-low, 0):
		return nil, fmt.Errorf("the readings span more than a number can hold")
	}
	n := float64(len(x))
	mean := 0.0
	for _, v := range x {
		mean += (v - low) / n
	}
	square, span := 0.0, high-low // in units of the span no square overflows or vanishes
	for _, v := range x {
		d := (v - low - mean) / span
		square += float64(d * d)
	}
	return Student(n-1, low+mean, float64(span*math.Sqrt(square/float64(n*(n-1)))))
}
