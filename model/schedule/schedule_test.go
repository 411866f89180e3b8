package schedule

import (
	"crypto/sha256"
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestPublishedFacts holds each trace to the figures published beside it, rounded as they are printed. US06 and SC03 are published
// over 596 s: the last seconds of their tables are at rest.
func TestPublishedFacts(t *testing.T) {
	for _, s := range All() {
		checkFacts(t, s, s.Published)
		for _, p := range s.Phases {
			checkFacts(t, s.Between(p.From, p.To), &p.Published)
		}
		if n := len(s.Speed); s.Speed[0] != 0 || s.Speed[n-1] != 0 {
			t.Errorf("%s does not go from rest to rest", s.Name)
		}
	}
}

func checkFacts(t *testing.T, s *Schedule, f *Facts) {
	t.Helper()
	metres := map[string]float64{"mile": 1609.344, "km": 1000}[f.Unit]
	rounding := map[string]float64{"mile": 0.005, "km": 0.0005}[f.Unit]
	if got := s.Distance() / metres; math.Abs(got-f.Distance) > rounding {
		t.Errorf("%s: %.5f %s, published %v", s.Name, got, f.Unit, f.Distance)
	}
	fastest := 0.0
	for _, v := range s.Speed {
		fastest = max(fastest, v)
	}
	if got := fastest * 3600 / metres; math.Abs(got-f.MaxSpeed) > 1e-9 {
		t.Errorf("%s: fastest %v %s/h, published %v", s.Name, got, f.Unit, f.MaxSpeed)
	}
	if got := s.Distance() / metres / f.Duration * 3600; f.MeanSpeed > 0 && math.Abs(got-f.MeanSpeed) > 0.05 {
		t.Errorf("%s: mean %.4f %s/h, published %v", s.Name, got, f.Unit, f.MeanSpeed)
	}
	idle := s.Duration() - f.Duration
	if n := len(s.Speed); idle != 0 && (idle != 4 || s.Between(n-5, n-1).Distance() != 0) {
		t.Errorf("%s: %v s, published %v", s.Name, s.Duration(), f.Duration)
	}
}

// TestTraces holds the embedded speeds to the digests of the traces as they were collected and checked, point by point, against
// other transcriptions of the regulations' tables: lines "second,speed" under a heading, one decimal.
func TestTraces(t *testing.T) {
	digests := map[string]string{
		"hwfet": "01a52b894c3b800607927db8b7b34fadeefd326f5e0f7cbe45741a68d0fac993",
		"nycc":  "b62b26f4243d7a341fd21e8167661b3c7c4575596ffa3b976f14130abfa101b7",
		"sc03":  "64e289ec203e783503f77b4ed2112074079029d60cbc6d21218e0b44e04cfe34",
		"udds":  "a10855641577936fbb972404ab326a83f1e10bf0dfabe513577bfd5ec2290308",
		"us06":  "3976587932c8995db890feb95e7734493ab9e8421dbfc1b45c21d8bb07b2ef3e",
		"wltc":  "a18cb9b6481ce17c33dd07b51473ca5331072c401d06441e7e6218ec338f8b4b",
	}
	for _, s := range All() {
		unit, per := "mph", 1/0.44704
		if s.Published.Unit == "km" {
			unit, per = "kph", 3.6
		}
		var text strings.Builder
		fmt.Fprintf(&text, "time_s,speed_%s\n", unit)
		for i, v := range s.Speed {
			fmt.Fprintf(&text, "%v,%.1f\n", s.Seconds[i], v*per)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256([]byte(text.String()))); got != digests[s.Name] {
			t.Errorf("%s: digest %s, want %s", s.Name, got, digests[s.Name])
		}
	}
}

func TestByName(t *testing.T) {
	var names []string
	for _, s := range All() {
		names = append(names, s.Name)
		if got, ok := ByName(s.Name); !ok || got != s {
			t.Errorf("ByName(%s) is not the one of All", s.Name)
		}
		if s.Title == "" || s.Source == "" {
			t.Errorf("%s: no title or no source", s.Name)
		}
	}
	if got := strings.Join(names, " "); got != "udds hwfet us06 sc03 nycc wltc" {
		t.Errorf("All: %s", got)
	}
	if s, ok := ByName("UDDS"); ok {
		t.Errorf("ByName(UDDS) = %s", s.Name)
	}
}

// TestSteps: piecewise straight from 0 to 20 m/s in 10 s, 5 s at 20, in unequal steps; distances by the area of a trapezoid.
func TestSteps(t *testing.T) {
	s, err := New("ramp", []float64{3, 13, 18}, []float64{0, 20, 20})
	if err != nil {
		t.Fatal(err)
	}
	want := []Step{{V: 10, A: 2, DT: 10}, {V: 20, A: 0, DT: 5}}
	for i, got := range s.Steps() {
		if got != want[i] {
			t.Errorf("step %d: %+v, want %+v", i, got, want[i])
		}
	}
	if s.Distance() != 200 || s.Duration() != 15 {
		t.Errorf("%v m in %v s, want 200 in 15", s.Distance(), s.Duration())
	}
}

func TestSteady(t *testing.T) {
	s := Steady(25)
	if s.Distance() != 90000 || s.Duration() != 3600 || len(s.Steps()) != 1 || s.Name != "steady 90 km/h" {
		t.Errorf("%s: %v m in %v s and %d steps", s.Name, s.Distance(), s.Duration(), len(s.Steps()))
	}
}

func TestSteadyRefuses(t *testing.T) {
	for _, speed := range []float64{-1, math.NaN(), math.Inf(1)} {
		if d := Steady(speed).Distance(); d == d {
			t.Errorf("Steady(%v) goes %v m, want NaN", speed, d)
		}
	}
}

func TestBetween(t *testing.T) {
	for _, s := range All() {
		last := len(s.Seconds) - 1
		for _, k := range []int{1, 200, last - 1} {
			a, b := s.Between(0, k), s.Between(k, last)
			if got := a.Distance() + b.Distance(); math.Abs(got-s.Distance()) > 1e-12*got {
				t.Errorf("%s cut at %d: %v m, whole %v", s.Name, k, got, s.Distance())
			}
			if got := a.Duration() + b.Duration(); got != s.Duration() || a.Duration() != float64(k) {
				t.Errorf("%s cut at %d: %v s, whole %v", s.Name, k, got, s.Duration())
			}
		}
	}
	udds, _ := ByName("udds")
	for _, ends := range [][2]int{{-1, 5}, {5, 5}, {6, 5}, {0, 1370}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("Between(%d, %d) does not panic", ends[0], ends[1])
				}
			}()
			udds.Between(ends[0], ends[1])
		}()
	}
}

// TestMotion: what is gathered is what the steps say, and pulling stands before braking.
func TestMotion(t *testing.T) {
	moving := map[string]float64{"udds": 1128, "hwfet": 761, "wltc": 1574} // seconds, counted apart in the traces
	for _, s := range append(All(), Steady(20), Steady(0)) {
		m := s.Motion()
		var distance, cubes, kinetic float64
		slowest := math.Inf(1)
		for _, step := range s.Steps() {
			distance += step.V * step.DT
			cubes += step.V * step.V * step.V * step.DT
			kinetic += step.A * step.V * step.DT
			if step.V > 0 {
				slowest = min(slowest, step.V)
			}
		}
		if math.Abs(m.V1-distance) > 1e-12*distance || math.Abs(m.V3-cubes) > 1e-12*cubes || math.Abs(m.AV-kinetic) > 1e-9 {
			t.Errorf("%s: sums %v %v %v, want %v %v %v", s.Name, m.V1, m.V3, m.AV, distance, cubes, kinetic)
		}
		if m.Time+m.Rest != s.Duration() {
			t.Errorf("%s: %v s moving and %v at rest of %v", s.Name, m.Time, m.Rest, s.Duration())
		}
		if want, ok := moving[s.Name]; ok && m.Time != want {
			t.Errorf("%s: %v s moving, want %v", s.Name, m.Time, want)
		}
		if len(m.Steps) > 0 && m.Slowest != slowest {
			t.Errorf("%s: slowest %v m/s, want %v", s.Name, m.Slowest, slowest)
		}
		checkDistinct(t, s.Name, m)
	}
}

func checkDistinct(t *testing.T, name string, m *Motion) {
	t.Helper()
	seen := make(map[[2]float64]bool)
	for i, step := range m.Steps {
		if key := [2]float64{step.V, step.A}; seen[key] {
			t.Errorf("%s: %+v stands twice", name, step)
		} else {
			seen[key] = true
		}
		if i > 0 && pull(step) > pull(m.Steps[i-1]) {
			t.Errorf("%s: step %d pulls more than the one before", name, i)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		seconds, speeds []float64
		want            string
	}{
		{nil, nil, "0 samples; at least 2"},
		{[]float64{0}, []float64{0}, "1 samples; at least 2"},
		{[]float64{0, 1}, []float64{0, 1, 2}, "2 times but 3 speeds"},
		{[]float64{0, 1, 1}, []float64{0, 1, 2}, "sample 2: time 1 s does not come after 1 s"},
		{[]float64{0, nan}, []float64{0, 1}, "sample 1: time NaN"},
		{[]float64{0, inf}, []float64{0, 1}, "sample 1: time +Inf"},
		{[]float64{0, 1}, []float64{-1, 1}, "sample 0: speed -1 m/s"},
		{[]float64{0, 1}, []float64{0, nan}, "sample 1: speed NaN m/s"},
		{[]float64{0, 1}, []float64{0, inf}, "sample 1: speed +Inf m/s"},
	} {
		s, err := New("mine", c.seconds, c.speeds)
		if s != nil || err == nil || !strings.HasPrefix(err.Error(), "schedule mine: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("New(%v, %v): %v, want %q", c.seconds, c.speeds, err, c.want)
		}
	}
}

func TestNewCopies(t *testing.T) {
	speeds := []float64{0, 1}
	s, err := New("mine", []float64{0, 1}, speeds)
	if err != nil {
		t.Fatal(err)
	}
	if speeds[1] = 99; s.Speed[1] != 1 {
		t.Error("the speeds given are kept, not copied")
	}
}
