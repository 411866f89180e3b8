package formula

import (
	"errors"
	"testing"
)

func TestTypes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"boxed.kerb_mass - bonded.kerb_mass", "kg"}, {"boxed.kerb_mass / bonded.kerb_mass", "1"}, {"energy / label_range", "kg m/s2 (N)"}, {"consumption * label_range", "kg m2/s2 (J)"},
		{"sqrt(footprint)", "m"}, {"gap^2", "m2"}, {"gap^-2", "1/m2"}, {"gap^0", "1"}, {"(gap / 1 m)^0.5", "1"}, {"sin(gap / 1 m)", "1"}, {"atan2(gap, 1 mm)", "1"}, {"a^a", "1"}, {"a^1000", "1"}, {"abs(-gap)", "m"}, {"min(gap, 1 m)", "m"}, {"if(gap > 1 mm, gap, 1 mm)", "m"}, {"exp(gap / 1 mm)", "1"},
		{"gap > 1 mm", "yes/no"}, {"not gap > 1 mm", "yes/no"}, {"if(a > 1, a > 2, a > 3)", "yes/no"}, {"pack_cost / energy", "s2 money/(kg m2)"}, {"pack_cost + 5 EUR", "money"}, {"0 kg", "kg"},
	} {
		if got := typeText(t, c.text); got != c.want {
			t.Errorf("%s: type %s, want %s", c.text, got, c.want)
		}
	}
}

func typeText(t *testing.T, text string) string {
	t.Helper()
	e, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	kind, err := e.Check(typesOf(t))
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return kind.String()
}

func TestTemperatureTypes(t *testing.T) {
	const absolute, difference, either = "absolute", "difference", "either"
	for _, c := range []struct{ text, want string }{
		{"outside_temperature", absolute}, {"rise", difference}, {"5 K", either}, {"5 degC", absolute}, {"outside_temperature - cell_temperature", difference}, {"outside_temperature + rise", absolute},
		{"rise + outside_temperature", absolute}, {"outside_temperature + 5 K", absolute}, {"outside_temperature - rise", absolute}, {"outside_temperature - 5 K", either}, {"300 K - outside_temperature", difference},
		{"rise + 5 K", either}, {"rise - 5 K", difference}, {"rise + rise", difference}, {"2 * rise", difference}, {"0.9 * outside_temperature", either}, {"rise / 2", difference}, {"min(outside_temperature, 300 K)", absolute},
		{"max(rise, 1 K)", difference}, {"if(a > 0, 5 K, 6 K)", either}, {"abs(outside_temperature - 20 degC)", difference}, {"-rise", difference}, {"300 K - 5 K", either},
		{"outside_temperature + 0.5 * (cell_temperature - outside_temperature)", absolute},
	} {
		e, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		kind, err := e.Check(typesOf(t))
		got := difference
		if kind.Temperature {
			got = absolute
		} else if kind.Either {
			got = either
		}
		if err != nil || got != c.want || kind.Temperature && kind.Either {
			t.Errorf("%s: %s %v, want %s", c.text, got, err, c.want)
		}
	}
}

func TestCheckRefuses(t *testing.T) {
	for _, c := range []struct {
		text   string
		offset int
		says   string
	}{
		{"boxed.kerb_mass + gap", 16, "kg + m: both sides must have the same dimension"}, {"gap - energy", 4, "m - kg m2/s2 (J): both"}, {"gap < 5", 4, "m < 1: both sides must have the same dimension; a number needs its unit too: 5 m"},
		{"0 < gap", 2, "0 m"}, {"min(gap, 1 kg)", 0, "min(m, kg)"}, {"if(a > 0, gap, 1 kg)", 0, "if(m, kg)"}, {"exp(gap)", 0, "exp(m): the argument must be a plain number"}, {"log(gap)", 0, "log(m)"}, {"floor(gap)", 0, "floor(m)"},
		{"sqrt(gap)", 0, "sqrt(m)"}, {"a and a > 1", 0, "and needs a condition"}, {"a > 1 and gap", 10, "number in m"}, {"not a", 4, "not needs a condition"}, {"if(a, 1, 2)", 3, "if needs a condition"},
		{"(a > 1) + 1", 3, "+ needs numbers"}, {"-(a > 1)", 4, "- needs numbers"}, {"(a > 1) > 0", 3, "> needs numbers"}, {"min(a, a > 1)", 9, "min needs numbers"}, {"if(a > 1, a, a > 1)", 15, "if needs numbers"},
		{"outside_temperature + cell_temperature", 20, "two absolute temperatures have no sum"}, {"outside_temperature + 5 degC", 20, "a difference is written in K"}, {"rise - outside_temperature", 5, "taken from a difference"},
		{"outside_temperature > rise", 20, "do not compare"}, {"max(outside_temperature, rise)", 0, "do not compare"}, {"rise < 5 degC", 5, "do not compare"}, {"-outside_temperature", 0, "no negative"}, {"-(5 degC)", 0, "-5 degC"},
		{"gap^0.5", 3, "only a constant whole exponent"}, {"gap^a", 3, "only a constant whole exponent"}, {"a^gap", 1, "an exponent has no unit"}, {"a^(2.5 m)", 1, "an exponent has no unit"},
		{"sin(gap)", 0, "sin(m): the argument must be a plain number"}, {"acos(gap)", 0, "acos(m)"}, {"atan2(gap, 1)", 0, "all must have the same dimension"}, {"atan2(a > 1, 1)", 8, "atan2 needs numbers"}, {"a^(a > 1)", 5, "^ needs numbers"},
		{"gap^25", 3, "powers above 24"}, {"(gap^20)^100", 8, "powers above 24"}, {"a + colour", 4, "colour is not known"},
	} {
		e, err := Parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		_, err = e.Check(typesOf(t))
		wantError(t, c.text, err, c.offset, c.says)
	}
}

func TestCheckWrapsTheCallersError(t *testing.T) {
	own := errors.New("own")
	e, err := Parse("1 + x")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Check(func(string) (Type, error) { return Type{}, own }); !errors.Is(err, own) {
		t.Errorf("got %v", err)
	}
}
