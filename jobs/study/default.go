package study

import (
	"fmt"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
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
