package unit

import (
	"strconv"
	"strings"
)

// A Dimension holds the exponents of the base quantities mass, length, time,
// electric current, temperature and money. Two dimensions are equal when they
// are ==. Plane angle is a number (SI brochure, 9th edition, table 4: rad = m/m).
// Money has no currency here: a study has one (Unit.Currency), and the
// catalogue need not know which.
type Dimension struct {
	kg, m, s, a, k, money int16
}

// One is the dimension of a plain number.
var One = Dimension{}

// Kelvin is the dimension of temperatures and of their differences.
var Kelvin = Dimension{k: 1}

// Money is the dimension of money, whatever its currency.
var Money = Dimension{money: 1}

// mostExponent bounds what Sensible accepts; the largest exponent in use is 4
// (second moments of area), so 24 only stops nonsense.
const mostExponent = 24

// Times returns the dimension of a product.
func (d Dimension) Times(e Dimension) Dimension {
	return Dimension{d.kg + e.kg, d.m + e.m, d.s + e.s, d.a + e.a, d.k + e.k, d.money + e.money}
}

// Over returns the dimension of a quotient d/e.
func (d Dimension) Over(e Dimension) Dimension { return d.Times(e.Power(-1)) }

// Power returns the dimension of the n-th power. For |n| <= 100 and a
// Sensible d nothing overflows; ask Sensible of the result.
func (d Dimension) Power(n int) Dimension {
	p := int16(n)
	return Dimension{d.kg * p, d.m * p, d.s * p, d.a * p, d.k * p, d.money * p}
}

// Root returns the dimension of the square root, and false where an exponent
// is odd.
func (d Dimension) Root() (Dimension, bool) {
	for _, e := range d.exponents() {
		if e%2 != 0 {
			return d, false
		}
	}
	return Dimension{d.kg / 2, d.m / 2, d.s / 2, d.a / 2, d.k / 2, d.money / 2}, true
}

// Sensible reports whether every exponent is at most 24 in size. Arithmetic on
// Sensible dimensions never overflows, so whoever builds dimensions from
// foreign text checks each result.
func (d Dimension) Sensible() bool {
	for _, e := range d.exponents() {
		if e > mostExponent || e < -mostExponent {
			return false
		}
	}
	return true
}

func (d Dimension) exponents() [6]int16 {
	return [6]int16{d.kg, d.m, d.s, d.a, d.k, d.money}
}

// String prints the coherent SI unit in base units: "kg m2/s2", "1/K",
// "kg/(m s2)", "1". Parse reads it back, but for "money".
func (d Dimension) String() string {
	symbols := [6]string{"kg", "m", "s", "A", "K", "money"}
	var above, below []string
	for i, e := range d.exponents() {
		switch {
		case e > 0:
			above = append(above, powerText(symbols[i], e))
		case e < 0:
			below = append(below, powerText(symbols[i], -e))
		}
	}
	text := strings.Join(above, " ")
	if text == "" {
		text = "1"
	}
	switch len(below) {
	case 0:
		return text
	case 1:
		return text + "/" + below[0]
	}
	return text + "/(" + strings.Join(below, " ") + ")"
}

func powerText(symbol string, e int16) string {
	if e == 1 {
		return symbol
	}
	return symbol + strconv.Itoa(int(e))
}
