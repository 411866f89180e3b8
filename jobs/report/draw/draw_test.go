package draw

import (
	"math"
	"strings"
	"testing"
)

// TestTicks: round values inside the scale, few and at least two, for ranges of any size.
func TestTicks(t *testing.T) {
	for _, s := range []Scale{{0, 1, 0, 1}, {-7.3, 2.2, 0, 1}, {1319, 1451, 0, 1}, {1e-9, 3e-9, 0, 1}, {-3e12, 8e12, 0, 1}, {0.0841, 0.0843, 0, 1}, {1.03, 1.97, 0, 1}} {
		for most := 3; most < 12; most++ {
			ticks := s.Ticks(most)
			if len(ticks) < 2 || len(ticks) > most+2 {
				t.Errorf("%v: %d ticks, at most %d wanted", s, len(ticks), most)
			}
			for i, x := range ticks {
				if x < s.Low-1e-9*(s.High-s.Low) || x > s.High+1e-9*(s.High-s.Low) {
					t.Errorf("%v: tick %v is not on the scale", s, x)
				}
				if i > 1 && math.Abs((ticks[i]-ticks[i-1])-(ticks[1]-ticks[0])) > 1e-6*(s.High-s.Low) {
					t.Errorf("%v: ticks %v are not even", s, ticks)
				}
			}
		}
	}
	if got := labels([]float64{-0.5, 0, 0.5}); strings.Join(got, " ") != "−0.5 0.0 0.5" {
		t.Errorf("labels %q", got)
	}
	if got := labels([]float64{1.5}); got[0] != "1.5" { // alone it is not 2
		t.Errorf("a tick alone is %q", got)
	}
}

// TestScales: no range of values, not even none or one, makes a place that is not a number.
func TestScales(t *testing.T) {
	for _, values := range [][]float64{nil, {5}, {0, 0}, {math.NaN(), 3}, {-math.MaxFloat64, math.MaxFloat64}, {math.Inf(1)}, {1, 1 + 1e-15}} {
		s := NewScale(10, 100, 0.05, values...)
		for _, v := range values {
			if x := s.At(v); v == v && !math.IsInf(v, 0) && (x != x || x < 10 || x > 100) {
				t.Errorf("%v: the place of %v is %v", values, v, x)
			}
		}
		_ = (&Scene{Width: 110}).SVG("x")
		scene := &Scene{Width: 110, Height: 20}
		scene.Axis(s, 10, 6, "kg")
		if text := scene.SVG("x"); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Errorf("%v: %s", values, text)
		}
	}
}

// TestFit: shortened words fit.
func TestFit(t *testing.T) {
	for _, words := range []string{"", "a", strings.Repeat("W", 200), "äöü§€字", "bonded.displaced.seat_crossbars"} {
		if got := Fit(words, TextSize, 60); Width(got, TextSize, false) > 60 && got != "…" {
			t.Errorf("%q became %q, %.0f wide", words, got, Width(got, TextSize, false))
		}
	}
}

// TestSVGEscapes: words, titles and values are text, whatever they hold.
func TestSVGEscapes(t *testing.T) {
	const bad = `<b>"&'</b>`
	s := &Scene{Width: 10, Height: 10, Title: bad, About: bad}
	s.Say(1, 1, bad, Start, Dark)
	s.Disc(1, 1, 1, Dark).Tip = bad
	if text := s.SVG(bad); strings.Contains(text, "<b>") || strings.Contains(text, `"&'`) {
		t.Errorf("markup came through: %s", text)
	}
}
