package study

import (
	"fmt"
	"math"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
)

// defaultText is a default of the catalogue: a quantity and its text in the study's
// grammar.
type defaultText struct{ quantity, text string }

// knownDefault is the number that a default gives, read by the grammar of the study.
func (c *Catalogue) knownDefault(d defaultText) (uncertain.Number, error) {
	if n, ok := c.defaults.Load(d); ok {
		return n.(uncertain.Number), nil
	}
	q, ok := c.Find(d.quantity)
	if !ok || d.text == "" {
		return uncertain.Number{}, fmt.Errorf("the catalogue has no default")
	}
	var errs source.Collector
	root, ok := source.Parse("catalogue", []byte(d.text+"\n"), &errs)
	if !ok {
		return uncertain.Number{}, errs.All("catalogue")
	}
	n, ok := new(uncertain.Context).Read(d.quantity, &q, q.Words, root)
	if !ok || n.Kind == Formula {
		return uncertain.Number{}, fmt.Errorf("its default %q is wrong: %w", d.text, errs.All("catalogue"))
	}
	c.defaults.Store(d, n)
	return n, nil
}

// defaultInput makes the input that a default of the catalogue gives a name.
func (c *Catalogue) defaultInput(name, text string) (*Input, error) {
	quantity := baseName(name)
	n, err := c.knownDefault(defaultText{quantity, text})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	q, _ := c.Find(quantity)
	in := inputOf(name, n, &q)
	in.Quantity, in.Default, in.Place = quantity, true, Place{File: "catalogue"}
	if owner, _, full := strings.Cut(name, "."); full {
		in.Vehicle = owner
	}
	in.Free.Source = q.DefaultSource
	return in, nil
}

// inputOf is the input of that name whose value is known so.
func inputOf(name string, n uncertain.Number, q *model.Quantity) *Input {
	in := &Input{Name: name, Kind: n.Kind, Value: n.Value, Marginal: n.Marginal, Expr: n.Expr, Text: n.Text, Cut: n.Cut, Unit: n.Unit,
		Temperature: n.Temperature, Free: n.Free, Price: n.Price, Low: math.Inf(-1), High: math.Inf(1)}
	if q != nil {
		in.Low, in.High = q.Low, q.High
	}
	return in
}
