package vehicle

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"proofmass/model"
	"proofmass/model/unit"
)

// values are constants of a study by quantity, in SI.
type values map[string]float64

// trial is a small study: cars, shared values, and columns for what is uncertain.
type trial struct {
	t        *testing.T
	cars     []Car
	node     values // by full name
	baseline string
}

func newTrial(t *testing.T, shared values) *trial {
	x := &trial{t: t, node: values{}}
	for q, v := range shared {
		x.node[q] = v
	}
	return x
}

// car adds a car that states own and inherits from the car of that name, by the
// rules of the study file: a given value is not inherited by a car that states
// anything it is made from.
func (x *trial) car(name, base string, own values) *Car {
	c := Car{Name: name, Given: map[string]string{}, Base: base}
	states := map[string]bool{}
	for q, v := range own {
		if e := BuiltIn().named[q]; e != nil && e.shared {
			x.node[q] = v
			continue
		}
		x.node[name+"."+q] = v
		c.Given[q] = name + "." + q
		states[q] = true
	}
	for i := range x.cars {
		if x.cars[i].Name == base {
			for q, node := range x.cars[i].Given {
				if c.Given[q] == "" && !anyOf(states, BuiltIn().MadeFrom(q)) {
					c.Given[q] = node
				}
			}
		}
	}
	for q := range x.node {
		if _, known := BuiltIn().Find(q); known && c.Given[q] == "" {
			c.Given[q] = q
		}
	}
	if base == "" && x.baseline == "" {
		x.baseline = name
	}
	x.cars = append(x.cars, c)
	return &x.cars[len(x.cars)-1]
}

func anyOf(states map[string]bool, names []string) bool {
	for _, name := range names {
		if states[name] {
			return true
		}
	}
	return false
}

func (x *trial) system() *System {
	x.t.Helper()
	s, err := BuiltIn().NewSystem(x.cars, x.baseline)
	if err != nil {
		x.t.Fatal(err)
	}
	return s
}

// run evaluates the wanted names with every default at its centre.
func (x *trial) run(wanted ...string) map[string]float64 {
	x.t.Helper()
	columns := x.columns(1, central(x.t), wanted...)
	found := map[string]float64{}
	for i, name := range wanted {
		found[name] = columns[i][0]
	}
	return found
}

// columns evaluates rows of the wanted names, defaults filled by draw.
func (x *trial) columns(rows int, draw fill, wanted ...string) [][]float64 {
	x.t.Helper()
	s := x.system()
	p, err := model.Compile(wanted, func(name string) (model.Rule, error) {
		if v, ok := x.node[name]; ok {
			return model.Constant(name, v), nil
		}
		rule, err := s.Rule(name)
		if err != nil && BuiltIn().DefaultText(name) != "" {
			return model.Sampled(name), nil
		}
		return rule, err
	})
	if err != nil {
		x.t.Fatal(err)
	}
	w := p.NewWorker(rows)
	for i, name := range p.Inputs() {
		draw(w.Input(i), name)
	}
	w.Run(rows)
	found := make([][]float64, len(wanted))
	for i := range wanted {
		found[i] = w.Output(i)
	}
	return found
}

// centre is the middle of a default: the mean, the median or the number itself.
func centre(t *testing.T, name, text string) float64 {
	t.Helper()
	if m := regexp.MustCompile(`between: \[(\S+), (\S+)\]`).FindStringSubmatch(text); m != nil {
		return (parse(t, m[1]) + parse(t, m[2])) / 2
	}
	if m := regexp.MustCompile(`(mean|median): ([^,}]+)`).FindStringSubmatch(text); m != nil {
		text = m[2]
	}
	number, unitText, _ := strings.Cut(text, " ")
	x := parse(t, number)
	q, _ := BuiltIn().Find(name[strings.Index(name, ".")+1:])
	if unitText == "" {
		if q.Unit.Dimension() != unit.One {
			t.Errorf("%s: default %q has no unit", name, text)
		}
		return x
	}
	u, err := unit.Parse(unitText)
	if err != nil || u.Dimension() != q.Unit.Dimension() {
		t.Fatalf("%s: default %q: %v", name, text, err)
	}
	return u.ToSI(x)
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// near checks a value to a relative tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// compileStated compiles one output; what is stated, and every default, is an input.
func compileStated(t *testing.T, s *System, wanted string, stated func(name string) bool) *model.Program {
	t.Helper()
	p, err := model.Compile([]string{wanted}, func(name string) (model.Rule, error) {
		if stated(name) {
			return model.Sampled(name), nil
		}
		rule, err := s.Rule(name)
		if err != nil && BuiltIn().DefaultText(name) != "" {
			return model.Sampled(name), nil
		}
		return rule, err
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}
