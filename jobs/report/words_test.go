package report

import (
	"fmt"
	"strings"
	"testing"
)

func ptr(x float64) *float64 { return &x }

func TestNumbersShareTheirDigits(t *testing.T) {
	for _, c := range []struct {
		in   []*float64
		want string
	}{
		{[]*float64{ptr(1477.3), ptr(1492.1), ptr(1507.4)}, "1477 1492 1507"},
		{[]*float64{ptr(-0.04), ptr(0.001), ptr(0.05)}, "-0.040 0.001 0.050"},
		{[]*float64{ptr(5), ptr(5)}, "5 5"},
		{[]*float64{ptr(400000), ptr(400000)}, "400000 400000"},
		{[]*float64{ptr(-1234567.8)}, "-1234600"},
		{[]*float64{ptr(0)}, "0"},
		{[]*float64{nil, ptr(2.25)}, "- 2.25"},
		{[]*float64{ptr(40), ptr(42)}, "40 42"},
		{[]*float64{ptr(-2.5e-11), ptr(2e-11)}, "-2.5e-11 2.0e-11"},
		{[]*float64{ptr(1.23456e23), ptr(1.24e23)}, "1.2346e+23 1.2400e+23"},
		{[]*float64{ptr(1e-300), ptr(1e300)}, "1.0e-300 1.0e+300"},
		{[]*float64{ptr(-0.0004), ptr(1)}, "0.0 1.0"},
		{[]*float64{ptr(50000001), ptr(50000019)}, "50000001 50000019"}, // the digits tell them apart
		{[]*float64{ptr(2.5e7), ptr(6.5e7)}, "2.50e+07 6.50e+07"},
		{[]*float64{ptr(3e15), ptr(3e15 + 7)}, "3.0000000000000000e+15 3.0000000000000070e+15"},
	} {
		if got := strings.Join(Numbers(c.in...), " "); got != c.want {
			t.Errorf("numbers = %q, want %q", got, c.want)
		}
	}
}

func TestWrapKeepsAStrangersTextInItsPlace(t *testing.T) {
	text := "bond\x1b[31mred\x07 and\r\nmore \u202ewords " + strings.Repeat("long ", 40)
	got := Wrap(text, "    ", 80)
	if strings.ContainsAny(got, "\x1b\x07\r\u202e") {
		t.Errorf("control characters pass: %q", got)
	}
	for _, line := range strings.Split(strings.TrimSuffix(got, "\n"), "\n") {
		if len([]rune(line)) > 80 || !strings.HasPrefix(line, "    ") {
			t.Errorf("line %q", line)
		}
	}
	if got := fit("größere_bezeichnung", 10); got != "größere_.." {
		t.Errorf("fit = %q", got)
	}
}

// A long list of names in a text is cut, with the count of the rest; a short one, and prose
// with commas, stay.
func TestLongListsOfNamesAreCut(t *testing.T) {
	list := func(n int) string {
		names := make([]string, n)
		for i := range names {
			names[i] = fmt.Sprintf("car.part_%d", i)
		}
		return strings.Join(names, ", ")
	}
	for text, want := range map[string]string{
		"Not known: " + list(12) + ".":                           "Not known: " + list(12) + ".",
		"Not known: " + list(13) + ".":                           "Not known: " + list(8) + ", and 5 more (ask).",
		"Not known: " + list(500) + " (why)":                     "Not known: " + list(8) + ", and 492 more (ask) (why)",
		"one thing of it, another of it, a third of it, a, b, c": "one thing of it, another of it, a third of it, a, b, c",
	} {
		if got := FewNames(text, "ask"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
