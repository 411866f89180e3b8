package study

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/vehicle"
)

// defaultText is a default of the catalogue: a quantity and its text in the study's
// grammar.
type defaultText struct{ quantity, text string }

// defaultsKnown are the defaults read so far, by defaultText. The catalogue is fixed, so
// that each is read once a process and shared by all studies.
var defaultsKnown sync.Map

// knownDefault is the number that a default gives, read by the grammar of the study.
func knownDefault(d defaultText) (uncertain.Number, error) {
	if n, ok := defaultsKnown.Load(d); ok {
		return n.(uncertain.Number), nil
	}
	q, ok := vehicle.Find(d.quantity)
	if !ok || d.text == "" {
		return uncertain.Number{}, fmt.Errorf("the catalogue has no default")
	}
	var errs source.Collector
	root, ok := source.Parse("catalogue", []byte(d.text+"\n"), &errs)
	if !ok {
		return uncertain.Number{}, errs.All("catalogue")
	}
	n, ok := new(uncertain.Context).Read(d.quantity, &q, vehicle.Words(d.quantity), root)
	if !ok || n.Kind == Formula {
		return uncertain.Number{}, fmt.Errorf("its default %q is wrong: %w", d.text, errs.All("catalogue"))
	}
	defaultsKnown.Store(d, n)
	return n, nil
}

// defaultInput makes the input that a default of the catalogue gives a name.
func defaultInput(name, text string) (*Input, error) {
	quantity := baseName(name)
	n, err := knownDefault(defaultText{quantity, text})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	q, _ := vehicle.Find(quantity)
	in := inputOf(name, n, &q)
	in.Quantity, in.Default, in.Place = quantity, true, Place{File: "catalogue"}
	if owner, _, full := strings.Cut(name, "."); full {
		in.Vehicle = owner
	}
	in.Free.Source = q.DefaultSource
	return in, nil
}

// allLossesConstant reports whether every loss that a running vehicle's consumption
// reads is a constant of the study: the model's own error is then larger, for it
// has to say what the losses' spread does not.
func (g *Graph) allLossesConstant() bool {
	losses := vehicle.Losses()
	known, constant := false, true
	for _, car := range g.cars {
		used := car + ".udds_ac_consumption"
		if g.node(used).err != nil {
			continue
		}
		g.Walk(func(name string) {
			if n := g.node(name); n.input == nil && !n.byDefault {
				return
			}
			known = true
			if slices.Contains(losses, baseName(name)) && g.drawn(name) {
				constant = false
			}
		}, used)
	}
	return known && constant
}

// drawn reports whether an input that is a leaf is no constant.
func (g *Graph) drawn(name string) bool {
	n := g.node(name)
	if n.input != nil && !n.input.Default {
		return n.input.Kind != Constant
	}
	in, err := defaultInput(name, vehicle.DefaultText(name, false))
	return err == nil && in.Kind != Constant
}
