package vehicle

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"proofmass/model"
)

// randomCars states some quantities, at random, for a baseline, a car based on it and one
// that stands alone.
func randomCars(r *rand.Rand) []Car {
	var cars []Car
	for _, name := range []string{"a", "b", "c"} {
		c := Car{Name: name, Given: map[string]string{}, Certified: r.IntN(2) == 0}
		few := r.Float64()
		for _, e := range BuiltIn().order {
			if !e.outputOnly && !e.shared && r.Float64() < few*few {
				c.Given[e.name] = name + "." + e.name
			}
		}
		if name == "b" {
			c.Base = "a"
			for q, node := range cars[0].Given {
				if c.Given[q] == "" && r.IntN(3) > 0 {
					c.Given[q] = node
				}
			}
			c.Displaced = []string{"b.displaced.floor"}
			delete(c.Given, "displaced_from") // which is refused beside items
		}
		cars = append(cars, c)
	}
	return cars
}

// compiles reports whether the name can be computed from what the cars state, with
// every leaf being a statement or having a default.
func compiles(s *System, cars []Car, name string) error {
	stated := map[string]bool{"b.displaced.floor": true}
	for _, c := range cars {
		for _, node := range c.Given {
			stated[node] = true
		}
	}
	_, err := model.Compile([]string{name}, func(name string) (model.Rule, error) {
		if stated[name] {
			return model.Sampled(name), nil
		}
		rule, err := s.Rule(name)
		if err != nil && BuiltIn().DefaultText(name) != "" {
			return model.Sampled(name), nil
		}
		return rule, err
	})
	return err
}

// TestAnyStatements states quantities at random, seeded: what is listed as an output can
// be computed, and what can't be says what lacks, which then helps.
func TestAnyStatements(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	helped := 0
	for range 60 {
		cars := randomCars(r)
		s, err := BuiltIn().NewSystem(cars, "a")
		if err != nil {
			t.Fatal(err)
		}
		for k, c := range cars {
			outputs := s.Outputs(c.Name)
			for _, e := range BuiltIn().order {
				name := c.Name + "." + e.name
				err := compiles(s, cars, name)
				if slices.Contains(outputs, name) {
					if err != nil {
						t.Fatalf("%v\n%s is listed: %v", cars, name, err)
					}
					continue
				}
				var m *Missing
				if errors.As(err, &m) && r.IntN(40) == 0 && helps(t, cars, k, e.name, m) {
					helped++
				} else if err != nil && m == nil {
					t.Fatalf("%v\n%s: %v, want what is missing", cars, name, err)
				}
			}
		}
	}
	if helped < 20 {
		t.Errorf("only %d messages were followed", helped)
	}
}

// helps follows the messages, at most some times, until the quantity can be had. It
// reports false where the vehicle is of the wrong kind for it.
func helps(t *testing.T, cars []Car, k int, q string, m *Missing) bool {
	t.Helper()
	cars = slices.Clone(cars)
	for i := range cars {
		given := map[string]string{}
		for q, node := range cars[i].Given {
			given[q] = node
		}
		cars[i].Given = given
	}
	for range 12 {
		if len(m.Needs) == 0 {
			return false
		}
		for _, need := range m.Needs {
			carName, part, _ := strings.Cut(need, ".")
			for i := range cars {
				if cars[i].Name == carName {
					cars[i].Given[part] = need
				}
			}
		}
		s, err := BuiltIn().NewSystem(cars, "a")
		if err != nil {
			t.Fatalf("%s: its message %q names what can't be given: %v", q, m, err)
		}
		_, err = s.Rule(cars[k].Name + "." + q)
		if !errors.As(err, &m) {
			return true
		}
	}
	t.Errorf("%v\n%s.%s: after twelve messages still %v", cars[k].Given, cars[k].Name, q, m)
	return false
}
