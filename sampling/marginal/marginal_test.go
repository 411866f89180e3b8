package marginal

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"proofmass/sampling/portable"
	"proofmass/sampling/special"
)

func must(t testing.TB, m Marginal, err error) Marginal {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// parseCase makes the marginal that a case of the tables names, such as
// "normal(0;1)[5;6]": a constructor, its arguments, limits of truncation.
func parseCase(t testing.TB, text string) Marginal {
	t.Helper()
	name, rest, _ := strings.Cut(text, "(")
	args, limits, _ := strings.Cut(rest, ")")
	var a, x []float64
	for _, w := range strings.Split(args, ";") {
		p, v, pair := strings.Cut(w, ":")
		a = append(a, number(t, p))
		if pair {
			x = append(x, number(t, v))
		}
	}
	var m Marginal
	var err error
	switch name {
	case "between":
		m, err = Between(a[0], a[1])
	case "log_between":
		m, err = LogBetween(a[0], a[1])
	case "triangular":
		m, err = Triangular(a[0], a[1], a[2])
	case "pert":
		m, err = PERT(a[0], a[1], a[2])
	case "beta":
		if len(a) == 2 { // PERT's own
			d := special.NewPERTBeta(a[0], a[1])
			m = pert{0, 1, 1, special.NewPERTTable(d), special.NewPERTTable(d.Mirror())}
			break
		}
		m, err = Beta(a[0], a[1], a[2], a[3])
	case "gamma":
		m, err = Gamma(a[0], a[1], a[2])
	case "student":
		m = newStudent(a[0], a[1], a[2]) // Student refuses 1 degree of freedom, which has no mean
	case "weibull":
		m, err = Weibull(a[0], a[1], a[2])
	case "arcsine":
		m, err = Arcsine(a[0], a[1])
	case "trapezoidal":
		m, err = Trapezoidal(a[0], a[1], a[2], a[3])
	case "curvilinear":
		m, err = CurvilinearTrapezoidal(a[0], a[1], a[2])
	case "normal":
		m, err = Normal(a[0], a[1])
	case "likely":
		m, err = Likely(a[0], a[1])
	case "lognormal":
		m, err = LogNormal(a[0], a[1])
	case "log_of_lognormal":
		m, err = LogNormal(portable.Exp(a[0]), portable.Exp(a[1]))
	case "lognormal_mean_sd":
		m, err = LogNormalMeanSD(a[0], a[1])
	case "percentiles":
		m, err = Percentiles(a, x)
	default:
		t.Fatalf("unknown case %q", text)
	}
	m = must(t, m, err)
	if limits == "" {
		return m
	}
	lo, hi, _ := strings.Cut(strings.Trim(limits, "[]"), ";")
	low, high := math.Inf(-1), math.Inf(1)
	if lo != "None" {
		low = number(t, lo)
	}
	if hi != "None" {
		high = number(t, hi)
	}
	from, to := m.Support()
	tr := newTruncated(m, max(low, from), min(high, to)) // Truncate refuses the far tails, which are right all the same
	tr.mean, tr.sd = moments(tr)
	return tr
}

func number(t testing.TB, w string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(w, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

type valueRow struct {
	name, quantity  string
	argument, value float64
}

func readValues(t testing.TB, file string) []valueRow {
	t.Helper()
	f, err := os.Open("../../testdata/sampling/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows []valueRow
	for lines := bufio.NewScanner(f); lines.Scan(); {
		w := strings.Split(lines.Text(), ",")
		if strings.HasPrefix(lines.Text(), "#") || w[0] == "case" {
			continue
		}
		rows = append(rows, valueRow{w[0], w[1], number(t, w[2]), number(t, w[3])})
	}
	return rows
}

func evaluate(t testing.TB, m Marginal, r valueRow) float64 {
	t.Helper()
	switch r.quantity {
	case "quantile":
		return m.Quantile(r.argument)
	case "upper":
		return m.QuantileUpper(r.argument)
	case "cdf":
		return m.CDF(r.argument)
	case "survival":
		return m.Survival(r.argument)
	case "mean":
		return m.Mean()
	case "sd":
		return m.SD()
	case "variance":
		return m.SD() * m.SD()
	}
	t.Fatalf("unknown quantity %q", r.quantity)
	return 0
}

// rounding is the error, in x, of one rounding of the numbers that a value of m
// is made of: its ends or mean, and what truncation cancels.
func rounding(m Marginal) float64 {
	const half = 0x1p-53
	switch d := m.(type) {
	case *truncated:
		return rounding(d.base) + half*d.base.SD()*min(1, d.SD()/d.base.SD()/d.kept)
	case normal:
		return half * (math.Abs(d.mean) + d.sd)
	case logNormal:
		return 0
	case gamma:
		return half * math.Abs(d.from)
	case weibull:
		return half * math.Abs(d.from)
	case student:
		return half * math.Abs(d.middle)
	case logBetween:
		return half * d.high * (1 + d.span)
	}
	low, high := m.Support()
	if math.IsInf(low, 0) {
		return half * m.SD()
	}
	return half * max(math.Abs(low), math.Abs(high))
}

// allowed is the error that a quantity may have.
func allowed(m Marginal, r valueRow) float64 {
	switch r.quantity {
	case "quantile", "upper":
		tol := 2e-15
		switch d := m.(type) {
		case logNormal: // the exponent, too, is rounded
			tol += 0x1p-52 * math.Abs(math.Log(r.value/d.median))
		case pert:
			tol = 1e-14 // TestBetaTable looks closer
		}
		return tol*(math.Abs(r.value)+m.SD()) + 4*rounding(m)
	case "cdf", "survival": // what a step of the rounding of x brings
		step := 2*rounding(m) + 4e-16*(math.Abs(r.argument)+m.SD())
		f := m.CDF
		if r.quantity == "survival" {
			f = m.Survival
		}
		return 1e-13*r.value + math.Abs(f(r.argument+step)-f(r.argument-step))
	}
	return 2e-13*math.Abs(r.value) + 1e-13*m.SD()
}

// TestDistributions holds every marginal against values of 60 digits, in both
// tails and to the last few digits.
func TestDistributions(t *testing.T) {
	made := map[string]Marginal{}
	for _, r := range readValues(t, "distributions.csv") {
		m, ok := made[r.name]
		if !ok {
			m = parseCase(t, r.name)
			made[r.name] = m
		}
		got := evaluate(t, m, r)
		off := math.Abs(got - r.value)
		if !(off <= allowed(m, r)) {
			t.Errorf("%s: %s(%v) = %v, want %v: off by %.2g (%.2g sd), allowed %.2g", r.name, r.quantity, r.argument, got, r.value, off, off/m.SD(), allowed(m, r))
		}
	}
	if len(made) < 30 {
		t.Errorf("%d cases, want at least 30", len(made))
	}
}

// TestDefinitions does so with a second, independently made table.
func TestDefinitions(t *testing.T) {
	made := map[string]Marginal{}
	for _, r := range readValues(t, "definitions.csv") {
		m, ok := made[r.name]
		if !ok {
			m = parseCase(t, r.name)
			made[r.name] = m
		}
		got, slack := evaluate(t, m, r), 1e-13*m.SD()
		if r.name == "student(1;0;1)" {
			slack = 0 // there is no sd
		}
		if !(math.Abs(got-r.value) <= 1e-12*math.Abs(r.value)+slack) {
			t.Errorf("%s: %s(%v) = %v, want %v", r.name, r.quantity, r.argument, got, r.value)
		}
	}
}
