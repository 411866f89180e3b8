package vehicle

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"proofmass/sampling/portable"
)

// A line is a car line of the certification data, by its first record: either one of the
// 60 cars that the losses were fitted on, or a group of variants of which no record has the
// test weight and the road load of one of these.
type line struct {
	record
	unseen bool
	error  [2]float64 // ln(filed/predicted) in the city and on the highway, by a fit that never saw the line
	other  [2]float64 // of an unseen line, whose drive is not recorded: the same with both axles driven
}

var outside []line // of leftOut, made once

// groupsOf are the variants by group, and for each the number of the fitted car with the
// test weight and road load of one of its records, -1 where there is none.
func groupsOf(core, variants []record) (groups [][]record, fitted []int) {
	for _, v := range variants {
		if n := len(groups); n == 0 || groups[n-1][0].name != v.name {
			groups, fitted = append(groups, nil), append(fitted, -1)
		}
		n := len(groups) - 1
		groups[n] = append(groups[n], v)
		for i, c := range core {
			if c.mass == v.mass && c.f0 == v.f0 && c.f1 == v.f1 && c.f2 == v.f2 {
				fitted[n] = i
			}
		}
	}
	return groups, fitted
}

// leftOut predicts every line by a fit without it. No two of the 60 cars are variants of
// one line (none share test weight and road load, and no group of variants holds two), so
// leaving out a line is leaving out a car.
func leftOut(t *testing.T) []line {
	t.Helper()
	if outside != nil {
		return outside
	}
	core := readCars(t, "bev_roadload.csv")
	whole, _ := refit(t, core, fitCovariance, prior())
	var lines []line
	for i, c := range core {
		theta, _ := refit(t, slices.Concat(core[:i], core[i+1:]), fitCovariance, whole)
		lines = append(lines, line{record: c, error: residuals(t, []record{c}, theta)[0]})
	}
	groups, fitted := groupsOf(core, readCars(t, "bev_variants.csv"))
	for g, group := range groups {
		if fitted[g] >= 0 {
			continue
		}
		one, two := group[0], group[0]
		one.allWheel, two.allWheel = 0, 1
		r := residuals(t, []record{one, two}, whole)
		lines = append(lines, line{group[0], true, r[0], r[1]})
	}
	outside = lines
	return lines
}

// logLikelihood of the lines where the error's standard deviation in the city (0) or on
// the highway (1) is sd x (mass/2200 kg)^growth. An unseen line's drive is drawn.
func logLikelihood(lines []line, way int, sd, growth float64) float64 {
	sum := 0.0
	for _, l := range lines {
		s := sd * math.Pow(l.mass/errorMass, growth)
		density := func(e float64) float64 { return math.Exp(-e*e/(2*s*s)) / s }
		likelihood := density(l.error[way])
		if l.unseen {
			both := chanceOfBoth(l.mass)
			likelihood = (1-both)*likelihood + both*density(l.other[way])
		}
		sum += math.Log(likelihood)
	}
	return sum
}

// mostLikely is the spread for a growth, by golden section.
func mostLikely(lines []line, way int, growth float64) (sd, value float64) {
	low, high := 0.01, 0.3
	for range 60 {
		a, b := high-0.618033988749895*(high-low), low+0.618033988749895*(high-low)
		if logLikelihood(lines, way, a, growth) > logLikelihood(lines, way, b, growth) {
			high = b
		} else {
			low = a
		}
	}
	return low, logLikelihood(lines, way, low, growth)
}

// statedSpread is the total error that the model states for a car built for the mass, as
// standard deviations of the logarithm.
func statedSpread(t *testing.T, mass float64) (city, highway float64) {
	city, highway = parse(t, BuiltIn().DefaultText("model_error_sd_city")), parse(t, BuiltIn().DefaultText("model_error_sd_highway"))
	return city * math.Pow(evident(mass)/errorMass, parse(t, BuiltIn().DefaultText("model_error_growth"))), highway
}

// TestTotalError derives how wrong a predicted consumption is, by lines that the fit never
// saw: the 60 cars, each by a fit without it, and the 11 unseen groups. The stated spread
// is theirs, rounded; in the city it grows with the mass, and that it does is far from
// chance (a likelihood ratio above 10.8 has a chance of 0.001 if it does not, chi square of
// one degree of freedom). That the unseen lines take part makes their own coverage below no
// clean test: without them the spread would be 0.0755 and the growth 1.7.
func TestTotalError(t *testing.T) {
	all := leftOut(t)
	for way, name := range []string{"city", "highway"} {
		for _, x := range []struct {
			what  string
			lines []line
		}{{"60 cars", all[:60]}, {"and 11 unseen", all}} {
			var best, value, low, high float64 = 0, math.Inf(-1), math.NaN(), math.NaN()
			for growth := -2.0; growth <= 6; growth += 0.05 {
				if _, v := mostLikely(x.lines, way, growth); v > value {
					best, value = growth, v
				}
			}
			for growth := -2.0; growth <= 6; growth += 0.05 {
				if _, v := mostLikely(x.lines, way, growth); v > value-1.92 { // 95 %
					low, high = min(low, growth), max(high, growth)
					if low != low {
						low, high = growth, growth
					}
				}
			}
			sd, _ := mostLikely(x.lines, way, best)
			flat, constant := mostLikely(x.lines, way, 0)
			two, square := mostLikely(x.lines, way, 2)
			t.Logf("%s, %s: growth %.2f (%.2f to %.2f), %.4f at 2200 kg; constant %.4f, likelihood ratio %.1f; growth 2: %.4f, ratio to the best %.2f",
				name, x.what, best, low, high, sd, flat, 2*(value-constant), two, 2*(value-square))
			if len(x.lines) == 60 {
				continue
			}
			stated, _ := statedSpread(t, errorMass)
			if way == 0 {
				near(t, "spread in the city", two, stated, 0.02)
				if ratio := 2 * (value - constant); !(ratio > 6.6) || !(low < 2 && 2 < high) {
					t.Errorf("growth %.2f to %.2f, likelihood ratio %.1f", low, high, ratio)
				}
				continue
			}
			_, stated = statedSpread(t, errorMass)
			near(t, "spread on the highway", flat, stated, 0.02)
			if !(low < 0 && 0 < high) {
				t.Errorf("on the highway the error grows: %.2f to %.2f", low, high)
			}
		}
	}
	near(t, "correlation", correlationOf(t, all[:60]), parse(t, BuiltIn().DefaultText("model_error_correlation")), 0.05)
}

// correlationOf is that of the errors in the city and on the highway, each over its
// stated spread.
func correlationOf(t *testing.T, lines []line) float64 {
	var xx, yy, xy float64
	for _, l := range lines {
		city, highway := statedSpread(t, l.mass)
		x, y := l.error[0]/city, l.error[1]/highway
		xx, yy, xy = xx+x*x, yy+y*y, xy+x*y
	}
	return xy / math.Sqrt(xx*yy)
}

// TestDrive fits the chance of two driven axles on the 60 cars: a logistic function of
// the logarithm of the mass, by Newton's method with Jeffreys' prior (Firth 1993,
// Biometrika 80), which keeps it from certainty where all cars of a mass are alike.
func TestDrive(t *testing.T) {
	cars := readCars(t, "bev_roadload.csv")
	a, b := 0.0, 10.0 // log odds a + b ln(m/2200 kg)
	for range 200 {
		var iaa, iab, ibb float64
		for _, c := range cars {
			x := math.Log(c.mass / errorMass)
			p := 1 / (1 + math.Exp(-a-b*x))
			iaa, iab, ibb = iaa+p*(1-p), iab+p*(1-p)*x, ibb+p*(1-p)*x*x
		}
		det := iaa*ibb - iab*iab
		var ga, gb float64
		for _, c := range cars {
			x := math.Log(c.mass / errorMass)
			p := 1 / (1 + math.Exp(-a-b*x))
			leverage := p * (1 - p) * (ibb - 2*iab*x + iaa*x*x) / det
			g := c.allWheel - p + leverage*(0.5-p)
			ga, gb = ga+g, gb+g*x
		}
		da, db := (ibb*ga-iab*gb)/det, (iaa*gb-iab*ga)/det
		a, b = a+da, b+min(max(db, -2), 2)
	}
	half := errorMass * math.Exp(-a/b)
	t.Logf("an even chance at %.0f kg, log odds grow by %.1f times the logarithm of the mass", half, b)
	near(t, "mass of an even chance", half, bothHalf, 0.002)
	near(t, "growth", b, bothGrowth, 0.03)
}

// held reports whether the stated 90 % range of a line holds the filed value. The range of an
// unseen line is that of the drive drawn.
func held(t *testing.T, l line, way int) bool {
	city, highway := statedSpread(t, l.mass)
	s := []float64{city, highway}[way]
	below := portable.NormalCDF(l.error[way] / s)
	if l.unseen {
		both := chanceOfBoth(l.mass)
		below = (1-both)*below + both*portable.NormalCDF(l.other[way]/s)
	}
	return below >= 0.05 && below <= 0.95
}

var massBands = []struct {
	name      string
	low, high float64
}{{"below 1,900 kg", 0, 1900}, {"1,900 to 2,200 kg", 1900, 2200}, {"2,200 to 2,400 kg", 2200, 2400}, {"2,400 kg and more", 2400, math.Inf(1)}, {"all", 0, math.Inf(1)}}

// TestCoverage counts how often the stated 90 % range holds the filed value, by line and by
// mass band, each line predicted by a fit that never saw it. Counts are held to binomial
// limits that a true 90 % would leave with a chance of 0.0005 on either side; with 18
// counts one is outside by chance for at most 1 in 55 new tables; on these tables the test
// is fixed. The table stands in testdata/cars/README.md, word for word.
func TestCoverage(t *testing.T) {
	lines := leftOut(t)
	var table strings.Builder
	table.WriteString("| lines | mass | lines | city held | highway held | allowed | mean city error |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, unseen := range []bool{false, true} {
		for _, band := range massBands {
			n, city, highway, mean := 0, 0, 0, 0.0
			for _, l := range lines {
				if l.unseen != unseen || l.mass < band.low || l.mass >= band.high {
					continue
				}
				n++
				e := l.error[0]
				if l.unseen {
					both := chanceOfBoth(l.mass)
					e = (1-both)*e + both*l.other[0]
				}
				mean += e
				if held(t, l, 0) {
					city++
				}
				if held(t, l, 1) {
					highway++
				}
			}
			if n == 0 {
				continue
			}
			low, high := binomialLimits(n, 0.9, 0.0005)
			fmt.Fprintf(&table, "| %s | %s | %d | %d | %d | %d to %d | %+.1f %% |\n", map[bool]string{false: "fitted, left out", true: "unseen"}[unseen], band.name, n, city, highway, low, high, 100*mean/float64(n))
			if city < low || city > high || highway < low || highway > high {
				t.Errorf("%s, unseen %v: city %d, highway %d of %d held, allowed %d to %d", band.name, unseen, city, highway, n, low, high)
			}
		}
	}
	t.Logf("\n%s", table.String())
	text, err := os.ReadFile("../../testdata/cars/README.md")
	if err != nil || !strings.Contains(string(text), table.String()) {
		t.Errorf("testdata/cars/README.md does not hold this table, %v", err)
	}
}

// TestUnseenLines: 19 of the 30 groups of variants hold a record with the test weight and
// road load of a fitted car; no car stands in two groups.
func TestUnseenLines(t *testing.T) {
	core := readCars(t, "bev_roadload.csv")
	groups, fitted := groupsOf(core, readCars(t, "bev_variants.csv"))
	seen := map[int]bool{}
	unseen := 0
	for _, i := range fitted {
		if i < 0 {
			unseen++
			continue
		}
		if seen[i] {
			t.Errorf("%s stands in two groups", core[i].name)
		}
		seen[i] = true
	}
	if len(groups) != 30 || unseen != 11 {
		t.Errorf("%d groups, %d unseen; want 30 and 11", len(groups), unseen)
	}
	for i, c := range core {
		for _, d := range core[:i] {
			if c.mass == d.mass && c.f0 == d.f0 && c.f1 == d.f1 && c.f2 == d.f2 {
				t.Errorf("%s and %s are one line", c.name, d.name)
			}
		}
	}
}

// TestVariantsOfDifferentMass looks at pairs of variants of one line whose weights differ:
// what was filed rises less with mass, inertia alone, than predicted by about one standard
// error. Recovery's spread of 0.039 moves that by 0.025 and is neither refused nor confirmed
// by the few pairs there are.
func TestVariantsOfDifferentMass(t *testing.T) {
	core := readCars(t, "bev_roadload.csv")
	groups, _ := groupsOf(core, readCars(t, "bev_variants.csv"))
	whole, _ := refit(t, core, fitCovariance, prior())
	var xx, xy, yy, n float64
	for _, g := range groups {
		for i := range g {
			g[i].allWheel = 0.5 // not recorded, and alike within a line
		}
		r := residuals(t, g, whole)
		for i := range g {
			for j := range i {
				if x, y := math.Log(g[i].mass/g[j].mass), r[i][0]-r[j][0]; x != 0 {
					xx, xy, yy, n = xx+x*x, xy+x*y, yy+y*y, n+1
				}
			}
		}
	}
	slope := xy / xx
	scatter := math.Sqrt((yy - slope*xy) / (n - 1))
	t.Logf("%g pairs: filed less predicted change of the logarithm in the city, for each of the mass: %.3f, standard error %.3f; scatter %.4f", n, slope, scatter/math.Sqrt(xx), scatter)
	if n != 10 || math.Abs(slope+0.079) > 0.005 || math.Abs(scatter/math.Sqrt(xx)-0.069) > 0.005 {
		t.Errorf("%g pairs, slope %.3f, standard error %.3f", n, slope, scatter/math.Sqrt(xx))
	}
}

// TestVariantsAgainstFiled: how far predicted differences between variants of one line (another
// weight, other tyres or road load) go with those that were filed, in the logarithm of combined
// consumption; each variant against the first of its line. What it gives stands in README.
func TestVariantsAgainstFiled(t *testing.T) {
	core := readCars(t, "bev_roadload.csv")
	groups, _ := groupsOf(core, readCars(t, "bev_variants.csv"))
	whole, _ := refit(t, core, fitCovariance, prior())
	var xx, xy, yy, sx, sy, missed, n float64
	lines := 0
	for _, g := range groups {
		for i := range g {
			g[i].allWheel = 0.5
		}
		r := residuals(t, g, whole)
		combined := func(i int) (filed, predicted float64) {
			filed = 0.55*g[i].city + 0.45*g[i].hwy
			predicted = 0.55*g[i].city/math.Exp(r[i][0]) + 0.45*g[i].hwy/math.Exp(r[i][1])
			return math.Log(filed), math.Log(predicted)
		}
		before := n
		for i := 1; i < len(g); i++ {
			if g[i].mass == g[0].mass && g[i].f0 == g[0].f0 && g[i].f1 == g[0].f1 && g[i].f2 == g[0].f2 {
				continue
			}
			y, x := combined(i)
			y0, x0 := combined(0)
			x, y = x-x0, y-y0
			xx, xy, yy, sx, sy, n = xx+x*x, xy+x*y, yy+y*y, sx+x, sy+y, n+1
			missed += (y - x) * (y - x)
		}
		if n > before {
			lines++
		}
	}
	slope := xy / xx
	half := 2.0 * math.Sqrt((yy-slope*xy)/(n-1)/xx)
	correlation := (xy - sx*sy/n) / math.Sqrt((xx-sx*sx/n)*(yy-sy*sy/n))
	rms := 100 * math.Sqrt(missed/n)
	t.Logf("%g variants of %d lines: slope %.3f +- %.3f, correlation %.3f, rms %.2f points", n, lines, slope, half, correlation, rms)
	if n != 47 || lines != 30 || math.Abs(slope-1.028) > 0.002 || math.Abs(half-0.074) > 0.002 || math.Abs(correlation-0.939) > 0.002 || math.Abs(rms-1.94) > 0.01 {
		t.Errorf("%g variants of %d lines: slope %.3f +- %.3f, correlation %.3f, rms %.2f points; README says otherwise", n, lines, slope, half, correlation, rms)
	}
}
