package formula

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"proofmass/model/unit"
)

// typesOf knows the names of the tests and their units.
func typesOf(t testing.TB) func(name string) (Type, error) {
	units := map[string]string{
		"a": "1", "b": "1", "c": "1", "boxed.kerb_mass": "kg", "bonded.kerb_mass": "kg", "bonded.cell_count": "1", "gap": "mm", "footprint": "m2",
		"consumption": "Wh/km", "label_range": "km", "energy": "kWh", "outside_temperature": "degC", "cell_temperature": "degC", "rise": "K", "pack_cost": "EUR",
		"bonded.displaced.floor_panel": "kg", "speed": "m/s",
	}
	return func(name string) (Type, error) {
		text, ok := units[name]
		if !ok {
			return Type{}, fmt.Errorf("%s is not known", name)
		}
		u, err := unit.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return Type{Dimension: u.Dimension(), Temperature: u.Absolute()}, nil
	}
}

// evaluate parses, checks where a type is known, and evaluates one row.
func evaluate(t *testing.T, text string, values map[string]float64) float64 {
	t.Helper()
	e, err := Parse(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	if _, err := e.Check(typesOf(t)); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	in := make([][]float64, len(e.Names()))
	for i, name := range e.Names() {
		in[i] = []float64{values[name]}
	}
	out := []float64{-999}
	e.Program().Eval(out, in)
	return out[0]
}

func TestValues(t *testing.T) {
	values := map[string]float64{"a": 3, "b": 0.5, "c": -2, "outside_temperature": 296.15, "cell_temperature": 300.15, "rise": 4, "gap": 0.002, "label_range": 500e3,
		"boxed.kerb_mass": 1436, "bonded.kerb_mass": 1359, "bonded.cell_count": 1014, "speed": 20}
	for _, c := range []struct {
		text string
		want float64
	}{
		{"1 + 2 * 3", 7}, {"(1 + 2) * 3", 9}, {"10 - 4 - 3", 3}, {"24 / 4 / 2", 3}, {"-2^2", -4}, {"2^3^2", 512}, {"2^-1", 0.5}, {"2^-2^2", 1. / 16},
		{"-a^2", -9}, {"(-a)^2", 9}, {"a^3", 27}, {"a^0", 1}, {"a^-2", 1. / 9}, {"4^0.5", 2}, {"a^(1/2)", math.Sqrt(3)}, {"(-8)^(a + 0)", -512}, {"(-8)^(a - 1)", 64}, {"2^-a^2", 1. / 512}, {"1^1000", 1}, {"(-1)^101", -1}, {"0^(a)", 0},
		{"sin(pi / 2)", 1}, {"cos(pi)", -1}, {"tan(0)", 0}, {"asin(1)", math.Pi / 2}, {"acos(-1)", math.Pi}, {"4 * atan(1)", math.Pi}, {"atan2(1, -1)", 3 * math.Pi / 4}, {"atan2(-a, 0)", -math.Pi / 2}, {"c^5", -32}, {"a^(1 + 1)", 9}, {"2 * -a", -6}, {"a - -b", 3.5}, {"+a", 3}, {"- -a", 3},
		{"a*b+c", -0.5}, {"a/b*c", -12}, {"1_000 + 1e3", 2000}, {".5 + 5.", 5.5}, {"pi", math.Pi}, {"a", 3}, {"7", 7},
		{"min(a, b, c)", -2}, {"max(a, b, c)", 3}, {"min(a, 2)", 2}, {"abs(c)", 2}, {"sqrt(16)", 4}, {"exp(0)", 1}, {"log(1)", 0}, {"ln(1)", 0}, {"ln(exp(2.5))", 2.5}, {"floor(b)", 0}, {"ceil(b)", 1}, {"floor(c - b)", -3},
		{"log10(1000)", 3}, {"log10(1e-3)", -3}, {"log10(1e15)", 15}, {"log10(1)", 0}, {"log10(1e22)", 22},
		{"if(a > 2, 1, 0)", 1}, {"if(a > 2 and b > 2, 1, 0)", 0}, {"if(a > 2 or b > 2, a, b)", 3}, {"if(not a > 2, a, b)", 0.5}, {"if(1 < 2, a, b)", 3}, {"if(1 > 2, a, b + c)", -1.5},
		{"a < 3", 0}, {"a <= 3", 1}, {"a > 3", 0}, {"a >= 3", 1}, {"3 > b", 1}, {"a > 5 or b > 0.1 and c < 0", 1}, {"not a > 5 and c > 0", 0}, {"not not a > 0", 1}, {"(a > 5 or b > 0) and c > 0", 0},
		{"if(a > 2, b > 1, b < 1)", 0},
		{"15 kWh", 54e6}, {"15kWh", 54e6}, {"15 (kWh/100 km)", 540}, {"15(kWh/100 km)", 540}, {"8 %", 0.08}, {"8%*a", 0.24}, {"8 %^2", 8e-4}, {"(8 %)^2", 0.0064}, {"36 km/h", 10}, {"2 m^2", 2},
		{"3 min", 180}, {"100 km / 50 km", 2}, {"label_range / 100 km", 5}, {"5 (1/K)", 5}, {"2 m / 1 s", 2}, {"1/2", 0.5}, {"a/2", 1.5},
		{"-6 %", -0.06}, {"if(a > 5 and b > 0, 1, 2)", 2}, {"if(a > 5 or b > 0, 1, 2)", 1},
		{"23 degC", 296.15}, {"-5 degC", 268.15}, {"outside_temperature - 23 degC", 0}, {"outside_temperature - -3.85 degC", 26.85 + 0.0}, {"cell_temperature - outside_temperature", 4},
		{"cell_temperature / 300.15 K", 1}, {"outside_temperature + rise", 300.15}, {"outside_temperature + 4 K", 300.15}, {"if(outside_temperature >= 23 degC, 1, 0)", 1}, {"50 degF - 10 degC", 0},
		{"(boxed.kerb_mass - bonded.kerb_mass) / bonded.cell_count", 77. / 1014}, {"speed / (1 km/h)", 72}, {"min(gap, 1.5 mm)", 0.0015},
	} {
		if got := evaluate(t, c.text, values); math.Abs(got-c.want) > 1e-13*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s = %v, want %v", c.text, got, c.want)
		}
	}
}

// The rows in which x is infeasible stay so wherever a value is read.
func TestInfeasible(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, text := range []string{
			"a", "a + 1", "1 - a", "b - a", "a * 0", "0 / a", "b / a", "a / b", "1 / a", "a^0", "a^2", "a^-1", "a^3", "a^0.5", "a^b", "b^a", "0.5^a", "sin(a)", "cos(a)", "tan(a)", "asin(a)", "acos(a)", "atan(a)", "atan2(a, b)", "atan2(b, a)", "-a", "abs(a)", "exp(a)", "exp(-a)", "sqrt(a)", "log(a)", "log10(a)", "floor(a)", "ceil(a)",
			"min(a, 1)", "max(a, 1)", "min(b, 1, a)", "max(1, a)", "a < 1", "a >= 1", "1 <= a", "b > a", "not a < 1", "not a > 1",
			"a > 1 and 1 > 2", "1 > 2 and a > 1", "a > 1 or 2 > 1", "2 > 1 or a > 1", "b > 0 or a > 1", "if(a > 1, 2, 2)", "if(b > 0, a, 1)", "if(b < 0, 1, a)", "if(b > 0, a > 1, b > 1)",
		} {
			got := evaluate(t, text, map[string]float64{"a": bad, "b": 0.5})
			if math.Float64bits(got) != math.Float64bits(math.NaN()) {
				t.Errorf("%s with a = %v: got %v (%x), want the one NaN", text, bad, got, math.Float64bits(got))
			}
		}
	}
	for _, text := range []string{
		"1 / (b - b)", "b / 0", "0 / 0 * b", "log(b - 1)", "log(b - b)", "log10(0 * b)", "sqrt(b - 1)", "exp(1000 * b + 1000)", "1 / exp(2000 * b)", "1e308 * (b + 10)", "1 / (1e308 * (b + 10))",
		"min(1 / (b - b), 1)", "(-1)^0.5", "(b - b)^(-0.5)", "asin(2)", "b^(1 / 0)", "acos(-1.5)", "atan(1 / 0)", "atan2(1, 1 / 0)", "(-2)^(1 / 3)", "(1 / 0)^(-b)", "sin(1 / 0)", "10^400", "if(1 / 0 > 1, b, b)", "1 / 0", "exp(-1 / 0)", "(b - b)^-1", "1e200^2 * b", "2 > 1 or 1 / 0 > b", "1 > 2 and 1 / 0 > b", "exp(-exp(1e4 * b))", "(1e200 + b)^-2",
	} {
		got := evaluate(t, text, map[string]float64{"b": 0.5})
		if math.Float64bits(got) != math.Float64bits(math.NaN()) {
			t.Errorf("%s: got %v, want the one NaN", text, got)
		}
	}
	for text, want := range map[string]float64{
		"if(b > 0, 1, a)": 1, "if(b > 0, 1, 1 / 0)": 1, "if(b < 0, log(b - 1), b)": 0.5, "if(b > 0, b > 0, a > 0)": 1, "if(2 > 1, 1, 1 / 0)": 1, "if(1 > 2, a, 1)": 1,
		"min(if(b > 0, 1, a), 5)": 1,
	} {
		if got := evaluate(t, text, map[string]float64{"a": math.NaN(), "b": 0.5}); got != want {
			t.Errorf("%s: got %v, want %v: a branch not taken does not count", text, got, want)
		}
	}
}

func TestSyntaxErrors(t *testing.T) {
	for _, c := range []struct {
		text   string
		offset int
		says   string
	}{
		{"", 0, "empty"}, {"  ", 0, "empty"}, {"a +", 3, "ends where a value"}, {"(a", 0, "never closed"}, {"a)", 1, "never opened"}, {"()", 1, "where a value"}, {"* a", 0, "where a value"},
		{"a b", 2, `missing before "b"`}, {"a 5", 2, `missing before "5"`}, {"a (b)", 0, "write a * (...)"}, {"5 (m) (b)", 6, `missing before "("`}, {"5 kWh/100 km", 10, "15 (kWh/100 km)"}, {"5 N m", 4, "stands in brackets"},
		{"1,5", 1, "the decimal sign is a point"}, {"min(1, 2", 3, "never closed"}, {"min(1 2)", 6, "missing"}, {"min(1,)", 6, "where a value"},
		{"1 < a < 2", 6, "not chained; write a < b and b < c"}, {"a <= b >= c", 7, "not chained"}, {"a == b", 2, "== on numbers is refused"}, {"a != b", 2, "!= on numbers"}, {"a = b", 2, "use <"},
		{"a <> b", 2, "refused"}, {"a && b", 2, "write and"}, {"a || b", 2, "write or"}, {"!a", 0, "write not"}, {"a ** 2", 2, "write ^"}, {"a % b", 2, "unit"}, {"a ≤ b", 2, "write <="}, {"a − b", 2, "keyboard"},
		{"a × b", 2, "write *"}, {"[a]", 0, "round brackets"}, {"a;b", 1, "no expression has"}, {"a\x00", 1, "no expression has"}, {"\xff", 0, "no expression has"}, {"größe", 2, "names have a-z"},
		{"Kerb_mass", 0, "is no name"}, {"a.B", 0, "is no name"}, {"a..b", 0, "is no name"}, {"a.", 0, "is no name"}, {"_a", 0, "is no name"}, {"a.b.c.d.e", 0, "four parts"},
		{"017", 0, "octal"}, {"a + 0x1F", 4, "hexadecimal"}, {"0b11", 0, "binary"}, {"1e400", 0, "out of range"}, {"1.2.3", 0, "is no number"}, {"1__0", 0, "between two digits"}, {"1e308 km", 0, "out of range"},
		{"15 kwh", 3, "did you mean kWh?"}, {"2a", 1, "write 2 * a"}, {"2 pi", 2, "write 2 * pi"}, {"15 kg/x", 6, "put blanks around it: 15 kg / x"}, {"5 W/(m K)", 4, "brackets around a unit"}, {"2 (a + b)", 2, "write 2 * (...)"}, {"2(", 1, "for a product"},
		{"5 °C", 2, "degC"}, {"5 µm", 2, "um"}, {"5 kerb_mass", 2, "write 5 * kerb_mass"}, {"1 EUR + 1 USD", 8, "one currency"}, {"5 (1/degC)", 2, "write K"},
		{"sin()", 0, "sin has 0 arguments, but takes 1"}, {"a + atan2(a)", 4, "atan2 has 1 arguments, but takes 2"}, {"sinn(a)", 0, "did you mean sin?"}, {"arcsin(a)", 0, "is no function"},
		{"a^(2 kg)", 3, "no unit"},
		{"maxx(a, b)", 0, "did you mean max?"}, {"MIN(a, b)", 0, "did you mean min?"}, {"foo(a)", 0, "the functions are if min"}, {"min(a)", 0, "takes 2 or more"}, {"abs(a, b)", 0, "takes 1"}, {"sqrt()", 0, "0 arguments"},
		{"if(a, b)", 0, "takes 3"}, {"if", 0, "three arguments"}, {"a and", 5, "ends where"}, {"and", 0, "found and"}, {"a > not b", 4, "found not"}, {"a not b", 2, "found not behind"},
		{strings.Repeat("(", 65) + "a", 65, "64 levels"}, {strings.Repeat("-", 66) + "a", 65, "64 levels"}, {strings.Repeat("(", 20000), 0, "at most 4096"}, {strings.Repeat("(", 4096), 65, "64 levels"},
		{strings.Repeat("not ", 70) + "a", 65 * 4, "64 levels"}, {strings.Repeat("abs(", 70), 65 * 4, "64 levels"},
	} {
		_, err := Parse(c.text)
		wantError(t, c.text, err, c.offset, c.says)
	}
}

func wantError(t *testing.T, text string, err error, offset int, says string) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Errorf("%.40q: got %v, want an *Error ...%s...", text, err, says)
		return
	}
	if e.Offset != offset || !strings.Contains(e.Error(), says) {
		t.Errorf("%.40q: got %d: %s\nwant %d: ...%s...", text, e.Offset, e.Error(), offset, says)
	}
}

func TestDepthAndLengthAllowed(t *testing.T) {
	for _, text := range []string{strings.Repeat("(", 64) + "a" + strings.Repeat(")", 64), "a" + strings.Repeat("+a", 2047), "min(a" + strings.Repeat(",a", 2045) + ")"} {
		e, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		out := []float64{0}
		e.Program().Eval(out, [][]float64{{1}})
		if out[0] != 1 && out[0] != 2048 {
			t.Errorf("%.20q: got %v", text, out[0])
		}
	}
}

func TestNames(t *testing.T) {
	e, err := Parse("b + bonded.displaced.floor_panel * b - min")
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(e.Names()); got != "[b bonded.displaced.floor_panel min]" {
		t.Errorf("names %s", got)
	}
	if e.NameOffset("min") != 39 || e.NameOffset("b") != 0 || e.NameOffset("bonded.displaced.floor_panel") != 4 {
		t.Errorf("offset of min is %d", e.NameOffset("min"))
	}
	if e, _ := Parse("3 EUR/kWh * a"); e.Currency() != "EUR" {
		t.Errorf("currency %q", e.Currency())
	}
}
