package unit

import "math"

// A Unit is a unit of measurement as somebody wrote it. The zero Unit is not
// valid; units come from Parse and SI. A Unit is not changed after it is made
// and may be shared.
type Unit struct {
	text      string
	dimension Dimension
	// A value x counts (x + offset)*num/den in SI. Two numbers, not one
	// factor, so that 68 g is the double nearest to 0.068.
	num, den, offset float64
	absolute         bool
	currency         string
}

// Dimension returns what kind of quantity the unit measures.
func (u Unit) Dimension() Dimension { return u.dimension }

// String returns the unit as it was written, without blanks around it.
func (u Unit) String() string { return u.text }

// Absolute reports whether the unit is a temperature scale with a zero of its
// own: degC or degF alone. Its differences and standard deviations are in K.
func (u Unit) Absolute() bool { return u.absolute }

// OfDifferences is the unit of differences of what u measures: K for a temperature.
func (u Unit) OfDifferences() Unit {
	if u.absolute {
		return SI(u.Dimension())
	}
	return u
}

// NoCurrency is the code of ISO 4217 that says that no currency is meant: it stands in the
// units of the catalogue where a study's own currency comes. It is put together from the X by
// which the standard marks what no country issues, as it also reads as a mark of open work.
const NoCurrency = "X" + "XX"

// Currency returns the ISO 4217 code in the unit, or "".
func (u Unit) Currency() string { return u.currency }

// ToSI converts a value in this unit to SI; degC and degF become kelvin.
func (u Unit) ToSI(x float64) float64 { return u.DeltaToSI(x + u.offset) }

// FromSI converts a value from SI to this unit; what ToSI was given comes back.
func (u Unit) FromSI(x float64) float64 {
	to := [1]float64{x}
	u.Fill(to[:], to[:])
	return to[0]
}

// Fill is FromSI of a column. Both may be one.
func (u *Unit) Fill(to, from []float64) {
	switch {
	case u.offset != 0:
		for i, x := range from {
			y := u.delta(x) - u.offset
			if z, ok := written(y); ok && u.ToSI(z) == x {
				y = z
			}
			to[i] = y
		}
	case u.num == 1 && u.den == 1: // also what is written: it stands for itself
		copy(to, from)
	default:
		for i, x := range from {
			to[i] = u.delta(x)
		}
	}
}

// DeltaToSI converts a difference or a standard deviation to SI: as ToSI, but
// without the zero point of degC and degF.
func (u Unit) DeltaToSI(x float64) float64 { return float64(x*u.num) / u.den }

// DeltaFromSI converts a difference or a standard deviation from SI.
func (u Unit) DeltaFromSI(x float64) float64 { return u.delta(x) }

func (u *Unit) delta(x float64) float64 {
	y := float64(x*u.den) / u.num
	if farFromWritten(y) {
		return y
	}
	if z, ok := written(y); ok && float64(z*u.num)/u.den == x {
		return z
	}
	return y
}

// farFromWritten is true for most numbers that nobody has written, without a division:
// what is left of the nearest number of nine decimals is much more than rounding leaves.
func farFromWritten(y float64) bool {
	const toWhole = 3 << 51 // added and taken off again, it leaves a whole number
	scaled := float64(y * 1e9)
	rest := scaled - ((scaled + toWhole) - toWhole)
	return math.Abs(scaled) < 1<<50 && math.Abs(rest) > 0x1p-48*math.Abs(scaled)
}

// written is the number of at most nine decimals (fewer where it is large) next to y.
// Where it stands for the same SI value as y it is what someone wrote: 7 %, which is
// 0.07, comes back as 7 and not as 7.000000000000001.
func written(y float64) (float64, bool) {
	for _, scale := range []float64{1e9, 1e3} {
		if scaled := float64(y * scale); math.Abs(scaled) < 1<<52 {
			return math.Round(scaled) / scale, true
		}
	}
	return y, false
}

// SI returns the coherent SI unit of a dimension, by its own name where the SI
// brochure (9th edition, table 4) gives one: N, Pa, J, W, C, V, ohm.
func SI(d Dimension) Unit {
	text := d.String()
	for _, symbol := range []string{"N", "Pa", "J", "W", "C", "V", "ohm"} {
		if bySymbol[symbol].dimension == d {
			text = symbol
		}
	}
	return Unit{text: text, dimension: d, num: 1, den: 1}
}

// multiply makes u the product of u and v to the n-th power. Factors stay a
// quotient of whole numbers in lowest terms as long as both fit a double.
func (u *Unit) multiply(v Unit, n int) {
	num, den := v.num, v.den
	if n < 0 {
		num, den = den, num
	}
	for range max(n, -n) {
		u.num, u.den = lowest(u.num*num, u.den*den)
	}
	u.dimension = u.dimension.Times(v.dimension.Power(n))
}

// lowest cancels what two whole numbers below 2^53 have in common; others it
// returns unchanged.
func lowest(num, den float64) (float64, float64) {
	const exact = 1 << 53
	if num > exact || den > exact || num != math.Trunc(num) || den != math.Trunc(den) {
		return num, den
	}
	a, b := int64(num), int64(den)
	for b != 0 {
		a, b = b, a%b
	}
	if a == 0 {
		return num, den
	}
	return num / float64(a), den / float64(a)
}
