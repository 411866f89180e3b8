package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-0.5": -0.5, "+1": 1, "1_000": 1000, "131_072": 131072, "1e3": 1000, "12e03": 12000, "1.5e+3": 1500, "1E-2": 0.01,
		".5": 0.5, "5.": 5, "0.971": 0.971, "1_0.5": 10.5, "0.000_1": 1e-4, "0e5": 0, "1.7976931348623157e308": math.MaxFloat64, "5e-324": 5e-324,
	} {
		if got, err := ParseNumber(text); err != nil || got != want {
			t.Errorf("%q: got %v, %v, want %v", text, got, err, want)
		}
	}
}

func TestParseNumberRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "no number"},
		{"017", "octal number; write 17"},
		{"-017", "write -17"},
		{"0_17", "octal"},
		{"08", "octal number; write 8"},
		{"00", "octal"},
		{"0o17", "octal"},
		{"00.5", "write 0.5"},
		{"007.5", "write 7.5"},
		{"0x1F", "hexadecimal"},
		{"-0X1p3", "hexadecimal"},
		{"0b11", "binary"},
		{".inf", "infinite"},
		{"-.Inf", "infinite"},
		{"Infinity", "infinite"},
		{".nan", "NaN"},
		{"NaN", "NaN"},
		{"1e400", "out of range"},
		{"-1e309", "out of range"},
		{"1e-400", "smallest"},
		{"2001-12-14", "date"},
		{"2001-12-14T10:00:00Z", "date"},
		{"1:30", "base 60"},
		{"190:20:30", "base 60"},
		{"1,5", "write 1.5"},
		{"-0,5", "write -0.5"},
		{"1,000", "write 1_000 for a thousand, 1.000 for a decimal point"},
		{"1,234,567.8", "commas"},
		{"1.950,5", "the decimal sign is a point, and nothing but _ groups digits"},
		{"1.234.567", "one point"},
		{"1 950", "grouped by _"},
		{"1'950", "grouped by _"},
		{"−5", "keyboard"},
		{"1/2", "fraction"},
		{"_1", "between two digits"},
		{"1_", "between two digits"},
		{"1__0", "between two digits"},
		{"1_.5", "between two digits"},
		{"1e", "exponent are missing"},
		{"1e+", "exponent are missing"},
		{"-.5E-", "exponent are missing"},
		{"1_0.e", "exponent are missing"},
		{"none", "decimal digits"},
		{"-e", "decimal digits"},
		{"three", "decimal digits"},
		{"3apple", "decimal digits"},
		{"at_most", "decimal digits"},
		{"1_000x", "decimal digits"},
		{"a__b_", "decimal digits"},
		{"._5", "between two digits"},
		{"1._5", "between two digits"},
		{"1_e5", "between two digits"},
		{".", "decimal digits"},
		{"-", "decimal digits"},
		{"yes", "decimal digits"},
		{"--1", "decimal digits"},
		{"1.2.3", "decimal digits"},
		{"٣", "decimal digits"},
		{"12 kg", "decimal digits"},
		{strings.Repeat("1", 65), "at most 64"},
	} {
		_, err := ParseNumber(c.text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Error(), c.says) {
			t.Errorf("%q: got %v, want ...%s...", c.text, err, c.says)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, text := range []string{"1_000", "1e3", "-0.5", "017", "0x1F", ".inf", "2001-12-14", "1,5", "1:30", "1e400", "1e-400", ""} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := ParseNumber(text)
		if err != nil {
			return
		}
		if x-x != 0 {
			t.Fatalf("%q reads as %v", text, x)
		}
		if strings.Trim(text, "0123456789_.eE+-") != "" || strings.HasPrefix(text, "00") {
			t.Fatalf("%q is read as a number", text)
		}
	})
}
