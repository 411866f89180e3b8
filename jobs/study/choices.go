package study

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
)

const (
	// MostChoices bounds the combinations of a study.
	MostChoices = 10_000
	// mostSwept bounds the quantities that choices set.
	mostSwept = 50
	// mostGrid is the most combinations of which a spread takes some.
	mostGrid = 100_000
)

// Choices are what the designer decides: combinations of values of inputs. Choice c, from
// 1, gives the inputs of these names Values[c-1], in SI, as Texts[c-1] has them written.
type Choices struct {
	Names  []string // full names, in alphabetical order
	Values [][]float64
	Texts  [][]string
	Place  Place

	// Looks is how often choices are looked at while their rows double, 1 where none is
	// dropped early. The rows of the study are those of the first look.
	Looks int
}

// Count is the number of choices, 0 without any.
func (c *Choices) Count() int {
	if c == nil {
		return 0
	}
	return len(c.Values)
}

// sweep is one quantity of a map of choices with its values.
type sweep struct {
	name   string
	key    source.Field
	values []swept
	words  bool // the values are words, which have no order
}

// swept is one value of a quantity that is swept.
type swept struct {
	number uncertain.Number
	text   string
}

const choicesForm = "choices are {NAME: [values], ...}, {list: [{NAME: value, ...}, ...]} or {spread: N, over: {NAME: [values], ...}}"

// choices reads `choices`. It is read after all that states inputs.
func (r *reader) choices(v source.Field) {
	pairs, ok := v.Pairs(choicesForm)
	if !ok {
		return
	}
	before := r.errs.Count()
	c := &Choices{Place: v.Place()}
	has := func(key string) bool {
		return slices.ContainsFunc(pairs, func(p source.Pair) bool { return p.Name == key })
	}
	var sweeps []sweep
	switch {
	case has("list"):
		sweeps = r.listedChoices(v, c)
	case has("spread") || has("over"):
		sweeps = r.spreadChoices(v, c)
	default:
		if sweeps = r.sweeps(v); r.errs.Count() == before {
			if n := gridSize(sweeps); n > MostChoices {
				v.Err(fmt.Sprintf("%s combinations", gridCount(n)), fmt.Sprintf("at most %d are run: fewer values, or {spread: N, over: ...}", MostChoices))
			} else {
				c.take(sweeps, grid(levelsOf(sweeps)))
			}
		}
	}
	if r.errs.Count() > before {
		r.unclear = true
		r.refuse("choices")
		return
	}
	if c.Count() == 0 {
		v.Err("no choices", choicesForm)
		return
	}
	r.s.Choices = c
	for i := range sweeps {
		r.sweep(i, &sweeps[i])
	}
}

// listedChoices reads whole combinations, each with the same names.
func (r *reader) listedChoices(v source.Field, c *Choices) []sweep {
	before := r.errs.Count()
	var list []source.Field
	source.Handlers{"list": func(f source.Field) {
		list, _ = f.List("a list of combinations is expected: [{NAME: value, ...}, ...]")
		if f.IsList() && len(list) == 0 {
			f.Err("an empty list", "at least one combination is expected")
		}
		if !f.AtMost(MostChoices, "combinations") {
			list = nil
		}
	}}.Read(v, "choices with list")
	var sweeps []sweep
	var names []string
	for i, combination := range list {
		pairs, ok := combination.Pairs("a combination is a mapping: {NAME: value, ...}")
		if !ok {
			continue
		}
		slices.SortFunc(pairs, func(a, b source.Pair) int { return strings.Compare(a.Name, b.Name) })
		var here []string
		for _, p := range pairs {
			here = append(here, p.Name)
		}
		if i == 0 {
			names = here
			if len(pairs) == 0 {
				combination.Err("no names", "a combination has at least one")
			}
			for _, p := range pairs {
				sweeps = append(sweeps, sweep{name: p.Name, key: p.Key})
			}
		}
		if !slices.Equal(here, names) {
			combination.Err("other names than the first combination has", "each has the same: "+source.Printable(source.Listed(names, "and"), 200))
			continue
		}
		for k, p := range pairs {
			q, ok := r.maySweep(p, i == 0)
			if !ok {
				continue
			}
			if value, ok := r.sweptValue(p.Name, q, p.Value); ok {
				sweeps[k].values = append(sweeps[k].values, value)
			}
		}
	}
	r.alike(sweeps)
	if r.errs.Count() > before {
		return nil
	}
	c.Names = names
	earlier := map[string]int{}
	for i := range list {
		values, texts := make([]float64, len(sweeps)), make([]string, len(sweeps))
		for k := range sweeps {
			values[k], texts[k] = sweeps[k].values[i].number.Value, sweeps[k].values[i].text
		}
		key := fmt.Sprint(values)
		if first, known := earlier[key]; known {
			list[i].Err(fmt.Sprintf("combination %d is the same as combination %d", i+1, first+1), "each once: one of two alike would never be the best")
			continue
		}
		earlier[key] = i
		c.Values, c.Texts = append(c.Values, values), append(c.Texts, texts)
	}
	return sweeps
}

// spreadChoices reads some of all combinations, that fill the space between them.
func (r *reader) spreadChoices(v source.Field, c *Choices) []sweep {
	var sweeps []sweep
	n := 0
	var over, spread bool
	before := r.errs.Count()
	source.Handlers{
		"spread": func(f source.Field) { n, _ = count(f, "spread", 1, MostChoices); spread = true },
		"over":   func(f source.Field) { sweeps = r.sweeps(f); over = true },
	}.Read(v, "choices with spread")
	if r.errs.Count() > before {
		return nil
	}
	if !over || !spread {
		v.Err("spread or over alone", choicesForm)
		return nil
	}
	levels, words := levelsOf(sweeps), make([]bool, len(sweeps))
	for i := range sweeps {
		words[i] = sweeps[i].words
	}
	c.take(sweeps, spreadOver(levels, words, n, r.s.Seed))
	return sweeps
}

// sweeps reads a map of names with their values.
func (r *reader) sweeps(v source.Field) []sweep {
	pairs, ok := v.Pairs("a mapping is expected: {NAME: [values], ...}")
	if !ok || !v.AtMost(mostSwept, "quantities to choose") {
		return nil
	}
	slices.SortFunc(pairs, func(a, b source.Pair) int { return strings.Compare(a.Name, b.Name) })
	var sweeps []sweep
	for _, p := range pairs {
		q, ok := r.maySweep(p, true)
		if !ok {
			continue
		}
		s := sweep{name: p.Name, key: p.Key, values: r.sweptValues(p, q)}
		s.words = q != nil && len(s.values) > 0 && isWord(q, s.values[0].text)
		sweeps = append(sweeps, s)
	}
	r.alike(sweeps)
	return sweeps
}

// sweptValues reads one value, a list, or {from, to, steps}.
func (r *reader) sweptValues(p source.Pair, q *model.Quantity) (values []swept) {
	take := func(f source.Field) {
		if value, ok := r.sweptValue(p.Name, q, f); ok {
			values = append(values, value)
		}
	}
	switch {
	case p.Value.IsList():
		list, _ := p.Value.List("")
		if len(list) == 0 {
			p.Value.Err("an empty list", "at least one value is expected")
		}
		if p.Value.AtMost(MostChoices, "values") {
			for _, f := range list {
				if value, ok := r.sweptValue(p.Name, q, f); ok && !twice(f, value, values) {
					values = append(values, value)
				}
			}
		}
	case p.Value.IsMapping():
		return r.steps(p, q)
	default:
		take(p.Value)
	}
	return values
}

// twice refuses a value that stands in a list already: its choices would be the same, and
// none the best. It reports whether one does.
func twice(f source.Field, value swept, earlier []swept) bool {
	for _, e := range earlier {
		if e.number.Value == value.number.Value && e.number.Unit.Dimension() == value.number.Unit.Dimension() {
			f.Err(f.What()+" stands there already, as "+e.text, "each value once")
			return true
		}
	}
	return false
}

// steps reads so many values from one to another, both among them.
func (r *reader) steps(p source.Pair, q *model.Quantity) (values []swept) {
	const form = "{from: value, to: value, steps: N}"
	var from, to *swept
	n, before := 0, r.errs.Count()
	end := func(to **swept) func(f source.Field) {
		return func(f source.Field) {
			if value, ok := r.sweptValue(p.Name, q, f); ok {
				*to = &value
			}
		}
	}
	source.Handlers{"from": end(&from), "to": end(&to), "steps": func(f source.Field) { n, _ = count(f, "steps", 2, MostChoices) }}.Read(p.Value, "values of a choice")
	if r.errs.Count() > before {
		return nil
	}
	if from == nil || to == nil || n == 0 {
		p.Value.Err("from, to or steps is missing", "values are a list, or "+form)
		return nil
	}
	if from.number.Unit.Dimension() != to.number.Unit.Dimension() {
		p.Value.Err("from and to have different dimensions", form)
		return nil
	}
	if from.number.Value == to.number.Value {
		p.Value.Err("from and to are the same", form)
		return nil
	}
	u := from.number.Unit
	for k := range n {
		value := *from
		low, high := u.FromSI(from.number.Value), u.FromSI(to.number.Value)
		x := low + float64((high-low)*(float64(k)/float64(n-1)))
		if k == n-1 {
			value = *to
		} else if k > 0 {
			// to 12 digits, so that 0.1 in steps is as a person would write it
			x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
			value.number.Value = u.ToSI(x)
			value.text = strings.TrimSpace(strconv.FormatFloat(x, 'g', 12, 64) + " " + strings.TrimPrefix(u.String(), "1"))
		}
		values = append(values, value)
	}
	return values
}

// sweptValue reads one value, which has no doubt of its own.
func (r *reader) sweptValue(name string, q *model.Quantity, f source.Field) (swept, bool) {
	const allowed = "a choice is a plain value; doubt about it belongs to another input"
	if f.IsMapping() || f.IsList() {
		f.Wrong(allowed)
		return swept{}, false
	}
	var words map[string]float64
	if q != nil {
		words = q.Words
	}
	n, ok := r.numbers.Read(name, q, words, f)
	if ok && n.Kind != Constant {
		f.Err(f.What()+" is uncertain", allowed)
		return swept{}, false
	}
	return swept{n, n.Text}, ok
}

// alike refuses values of one name of different dimensions.
func (r *reader) alike(sweeps []sweep) {
	for _, s := range sweeps {
		for _, value := range s.values {
			if value.number.Unit.Dimension() != s.values[0].number.Unit.Dimension() {
				s.key.Err(value.text+" has another dimension than "+s.values[0].text, "all values of one name have one dimension")
				return
			}
		}
	}
}

// levelsOf is how many values each quantity has.
func levelsOf(sweeps []sweep) []int {
	levels := make([]int, len(sweeps))
	for i, s := range sweeps {
		levels[i] = len(s.values)
	}
	return levels
}

// take makes the choices of combinations, each a level of every quantity.
func (c *Choices) take(sweeps []sweep, combinations iter.Seq[[]int]) {
	for _, s := range sweeps {
		c.Names = append(c.Names, s.name)
	}
	if levels := levelsOf(sweeps); len(levels) == 0 || slices.Contains(levels, 0) {
		return
	}
	for at := range combinations {
		values, texts := make([]float64, len(at)), make([]string, len(at))
		for k, level := range at {
			values[k], texts[k] = sweeps[k].values[level].number.Value, sweeps[k].values[level].text
		}
		c.Values, c.Texts = append(c.Values, values), append(c.Texts, texts)
	}
}

// gridSize is the number of all combinations, at most math.MaxInt.
func gridSize(sweeps []sweep) int {
	n := 1
	for _, s := range sweeps {
		if len(s.values) > 0 && n > math.MaxInt/len(s.values) {
			return math.MaxInt
		}
		n *= len(s.values)
	}
	return n
}

func gridCount(n int) string {
	if n == math.MaxInt {
		return "more than can be counted"
	}
	return strconv.Itoa(n)
}

// isWord reports whether a value is written as a word that stands for a number.
func isWord(q *model.Quantity, text string) bool {
	_, word := q.Words[text]
	return word
}
