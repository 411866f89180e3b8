package estimate

import (
	"math"
	"strings"
	"testing"
)

func TestChanceIntervals(t *testing.T) {
	for _, row := range table(t, "chances.csv") {
		x, n := whole(t, row[1]), whole(t, row[2])
		var got Interval
		tolerance := 1e-14
		if row[0] == MethodWilson {
			got = wilson(float64(x)/float64(n), float64(n), normalQuantile(0.95))
		} else {
			got = clopperPearson(x, n, 0.95)
			tolerance = 1e-13
		}
		low, high := number(t, row[3]), number(t, row[4])
		if math.Abs(got.Low-low) > tolerance || math.Abs(got.High-high) > tolerance {
			t.Errorf("%s %d of %d: got %.17g, want %s, %s", row[0], x, n, got, row[3], row[4])
		}
		if x == 0 && got.Low != 0 || x == n && got.High != 1 {
			t.Errorf("%s %d of %d: %v does not end at 0 or 1 exactly", row[0], x, n, got)
		}
	}
}

// counts makes 16 replicates of the same size.
func counts(rows int, held ...int) []Count {
	c := make([]Count, 16)
	for r := range c {
		c[r] = Count{held[r%len(held)], rows}
	}
	return c
}

func TestChanceMethods(t *testing.T) {
	for _, c := range []struct {
		name        string
		replicates  []Count
		independent bool
		method      string
		effective   float64
	}{
		{"independent", counts(4, 1, 2), true, MethodWilson, 64},
		{"independent, one holds", []Count{{1, 50}}, true, MethodClopperPearson, 50},
		{"few rows", counts(31, 10, 11), false, MethodNone, 496},
		{"equal chances", counts(64, 20), false, MethodReplicates, 20 * 1024},
		{"no row holds", counts(64, 0), false, MethodClopperPearson, 1024},
		{"all rows hold", counts(64, 64), false, MethodClopperPearson, 1024},
		{"few hold", counts(64, 4, 5), false, MethodWilson, 1024},
		{"few fail", counts(64, 60, 59), false, MethodWilson, 1024},
		{"spread as wide as independent rows", counts(64, 10, 40), false, MethodReplicates, 1024},
		// p = 1/2, every p_r 1/64 off: se^2 = (1/64)^2/15, n_eff = 15*64^2/4 = 15360.
		{"narrow spread", counts(64, 31, 33), false, MethodReplicates, 15360},
		{"at most 20 times", counts(640, 319, 321), false, MethodReplicates, 20 * 10240},
	} {
		p, err := Chance(c.replicates, c.independent, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Method != c.method || math.Abs(p.EffectiveRows-c.effective) > 1e-9*c.effective {
			t.Errorf("%s: %s with %g rows, want %s with %g", c.name, p.Method, p.EffectiveRows, c.method, c.effective)
		}
		if inside := p.Interval.Low <= p.Chance && p.Chance <= p.Interval.High; inside != (c.method != MethodNone) {
			t.Errorf("%s: chance %g, interval %v", c.name, p.Chance, p.Interval)
		}
	}
}

// A claim that holds in no row: at most 1 - (a/2)^(1/n), the closed form of
// Clopper and Pearson's upper end.
func TestChanceOfNothing(t *testing.T) {
	p, err := Chance(counts(8192, 0), false, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at most", p.Interval.High, -math.Expm1(math.Log(0.025)/131072), 1e-12)
	if p.Chance != 0 || p.Interval.Low != 0 {
		t.Errorf("got %+v", p)
	}
}

func TestChanceRefuses(t *testing.T) {
	for _, c := range [][]Count{{{3, 2}}, {{-1, 2}}, {{0, -1}}} {
		if _, err := Chance(c, true, Options{}); err == nil || !strings.Contains(err.Error(), "cannot hold") {
			t.Errorf("%v: got error %v", c, err)
		}
	}
	if _, err := Chance(nil, true, Options{Level: 2}); err == nil {
		t.Error("level 2 was taken")
	}
	p, err := Chance(nil, true, Options{})
	if err != nil || !math.IsNaN(p.Chance) || p.Method != MethodNone {
		t.Errorf("no rows: %+v, %v", p, err)
	}
}
