package draw

import (
	"math"
	"strconv"
	"strings"
)

// A Scale maps values to places: from Low at From to High at To.
type Scale struct{ Low, High, From, To float64 }

// At is the place of a value.
func (s Scale) At(x float64) float64 {
	return s.From + (x/2-s.Low/2)/(s.High/2-s.Low/2)*(s.To-s.From) // halves, so that no range is infinite
}

// Holds reports whether a value lies on the scale.
func (s Scale) Holds(x float64) bool { return x >= s.Low && x <= s.High }

// NewScale covers the finite ones of the values with a margin of a share of their range,
// so that marks do not stand on its ends; a range of nothing is widened.
func NewScale(from, to, margin float64, values ...float64) Scale {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			low, high = min(low, v), max(high, v)
		}
	}
	if low > high {
		low, high = 0, 1
	}
	wide := high/2 - low/2 // half, so that it is finite
	if wide == 0 {
		wide = max(math.Abs(low)/20, 0.5)
		low, high = low-wide, high+wide
	}
	return Scale{max(low-2*margin*wide, -math.MaxFloat64), min(high+2*margin*wide, math.MaxFloat64), from, to}
}

// Ticks are round values on the scale, at most the given number of them and at least two
// wherever numbers can be told apart, in steps of 1, 2 or 5 times a power of ten.
func (s Scale) Ticks(most int) []float64 {
	ticks := s.ticks(most)
	for finer := most + 1; len(ticks) < 2 && finer <= most+6; finer++ {
		ticks = s.ticks(finer)
	}
	return ticks
}

// ticks may be one or none where the range is short and lies off the round values.
func (s Scale) ticks(most int) []float64 {
	step := nice(2 * ((s.High/2 - s.Low/2) / float64(max(1, most))))
	if step == 0 || math.IsInf(step, 0) || math.IsNaN(step) {
		return nil
	}
	var ticks []float64
	for k := math.Ceil(s.Low/step - 1e-9); k*step <= s.High+1e-9*step && len(ticks) <= 2*most; k++ {
		ticks = append(ticks, k*step+0)
	}
	return ticks
}

// nice is the least of 1, 2, 5 times a power of ten that is not below x.
func nice(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= x*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// labels writes ticks with the digits that their step needs; minus signs are true ones.
func labels(ticks []float64) []string {
	digits := 0
	if len(ticks) > 0 {
		step := ticks[0]
		if len(ticks) > 1 {
			step = ticks[1] - ticks[0]
		}
		for digits < 9 && math.Abs(step*math.Pow(10, float64(digits))-math.Round(step*math.Pow(10, float64(digits)))) > 1e-6 {
			digits++
		}
	}
	words := make([]string, len(ticks))
	for i, t := range ticks {
		text := strconv.FormatFloat(t, 'f', digits, 64)
		if math.Abs(t) >= 1e7 {
			text = strconv.FormatFloat(t, 'g', 4, 64)
		}
		if strings.Trim(text, "-0.") == "" {
			text = strings.TrimPrefix(text, "-")
		}
		words[i] = Signed(text)
	}
	return words
}

// Signed puts a true minus sign for a hyphen before a number.
func Signed(number string) string { return strings.ReplaceAll(number, "-", "−") }

// Axis draws a level axis at y with ticks, numbers and the unit behind the last number.
func (s *Scene) Axis(scale Scale, y float64, most int, unit string) {
	s.Line(scale.From, y, scale.To, y, Rule, 1)
	ticks := scale.Ticks(most)
	words, left := s.tickWords(scale, ticks, unit)
	for len(ticks) > 2 && crowded(words, left) {
		most--
		ticks = scale.Ticks(most)
		words, left = s.tickWords(scale, ticks, unit)
	}
	for i, t := range ticks {
		x := scale.At(t)
		s.Line(x, y, x, y+5, Rule, 1)
		if i == len(ticks)-1 && words[i] != labels(ticks)[i] {
			s.Say(left[i], y+19, words[i], Start, Soft)
			continue
		}
		s.Say(x, y+19, words[i], Middle, Soft)
	}
}

// tickWords are the numbers at ticks, the last with its unit, and where each begins: in the
// middle under its tick, the last with its number there if the picture has room.
func (s *Scene) tickWords(scale Scale, ticks []float64, unit string) (words []string, left []float64) {
	words = labels(ticks)
	for i, t := range ticks {
		left = append(left, scale.At(t)-Width(words[i], TextSize, false)/2)
	}
	if n := len(ticks) - 1; n >= 0 && unit != "" && unit != "1" {
		words[n] += "\u00a0" + unit
		left[n] = max(0, min(left[n], s.Width-Width(words[n], TextSize, false)))
	}
	return words, left
}

// crowded reports whether two neighbouring numbers have less than two digits between them.
func crowded(words []string, left []float64) bool {
	for i := 1; i < len(words); i++ {
		if left[i] < left[i-1]+Width(words[i-1], TextSize, false)+Width("00", TextSize, false) {
			return true
		}
	}
	return false
}

// AxisUp draws an axis that goes up, without a line: numbers left of x1, a hair line to x2
// at each, the unit behind the highest number.
func (s *Scene) AxisUp(scale Scale, x1, x2 float64, most int, unit string) {
	ticks := scale.Ticks(most)
	for i, words := range labels(ticks) {
		y := scale.At(ticks[i])
		s.Line(x1, y, x2, y, Hair, 1)
		if i == len(ticks)-1 && unit != "" && unit != "1" {
			words += "\u00a0" + unit
		}
		s.Say(x1-8, y+5, words, End, Soft)
	}
}
