package vehicle

import (
	"math"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/model/unit"
)

// SizeFor says what the number of a car's parallel strings follows from.
type SizeFor string

// What a car may be sized for: "" and SizeForCells take its cells as they are stated.
const (
	SizeForCells  SizeFor = "cells"
	SizeForEnergy SizeFor = "energy"
	SizeForLabel  SizeFor = "label_range"
	SizeForWLTC   SizeFor = "wltc_range"
)

// SizeForWords are the words that say what a car is sized for.
func SizeForWords() []string {
	return []string{string(SizeForCells), string(SizeForEnergy), string(SizeForLabel), string(SizeForWLTC)}
}

// byRange reports whether the strings are those that keep the baseline's range.
func (f SizeFor) byRange() bool { return f == SizeForLabel || f == SizeForWLTC }

// Sizes reports whether the strings follow from something.
func (f SizeFor) Sizes() bool { return f == SizeForEnergy || f.byRange() }

func sizingQuantities() []quantity {
	const (
		sized = "strings_for_energy"
		by    = "the same car with other strings"
		says  = "The parallel strings of %s are sized: a real number in each draw, which no pack has; whole strings are told beside it (strings_whole, cells_saved_whole, whole_strings_range)."
	)
	out := func(name, unit, meaning, source string, ways ...way) quantity {
		return quantity{name: name, unit: unit, limits: anyNumber, outputOnly: true, traits: model.Traits{Question: sized, Undivided: true}, meaning: meaning, source: source, ways: ways}
	}
	saving := func(name, of, unit, meaning string) quantity {
		return out(name, unit, meaning, by, way{from: []string{of, "parallel", sized}, fit: func(s *System, c *car) plan { return s.savedBySizing(c, of) },
			form: of + " with strings_for_energy in place of parallel - " + of})
	}
	return []quantity{
		{name: sized, unit: "1", limits: positive, outputOnly: true, step: true, traits: model.Traits{Convention: model.Convention{Says: says}},
			meaning: "parallel strings, a real number, that hold the baseline's nominal energy", source: "definition",
			ways: []way{{from: []string{"pack_energy", "series", "cell_energy"}, fit: stringsForEnergy, form: "pack_energy of the baseline / (series x cell_energy)"}}},
		out("strings_whole", "1", "parallel strings, the next whole number", "upwards, 1e-9 forgiven", sizedAlone(from1(wholeStrings, "parallel")).reads("parallel, upwards")),
		out("cells_saved", "1", "cells fewer than the baseline has; below nil it needs more", "difference",
			sizedAlone(difference("baseline:cell_count", "cell_count")).reads("cell_count of the baseline - cell_count")),
		out("cells_saved_whole", "1", "cells fewer than the baseline has, with whole strings", "difference",
			sizedAlone(from3(savedWhole, "baseline:cell_count", "series", "strings_whole")).reads("cell_count of the baseline - series x strings_whole")),
		saving("pack_mass_saving", "pack_mass", "kg", "mass that the pack is lighter than with strings that hold the baseline's energy; below nil it is heavier"),
		saving("kerb_mass_saving", "kerb_mass", "kg", "the same of kerb mass, with what is resized with the car"),
		saving("pack_cost_saving", "pack_cost", unit.NoCurrency, "money that the pack costs less than with strings that hold the baseline's energy"),
		out("whole_strings_range", "km", "the range that the car is sized for, with whole strings", by,
			way{from: []string{"strings_whole"}, fit: (*System).rangeOfWhole, form: "the range with strings_whole in place of parallel"}),
	}
}

// sizedAlone bars a way where nothing is sized.
func sizedAlone(w way) way {
	from := slices.Clone(w.needs)
	for i, need := range from {
		from[i] = strings.TrimPrefix(need, baselineMark)
	}
	return way{from: from, fit: func(_ *System, c *car) plan {
		return plan{ok: c.SizeFor.Sizes(), needs: w.needs, eval: w.eval}
	}}
}

func stringsForEnergy(_ *System, c *car) plan {
	return plan{ok: c.SizeFor.Sizes(), needs: []string{"baseline:pack_energy", "!series", "cell_energy"},
		eval: from3(func(energy, series, cell float64) float64 { return energy / (series * cell) }, "", "", "").eval}
}

// wholeForgiven is how far above a whole number strings are still that many.
const wholeForgiven = 1e-9

func wholeStrings(x float64) float64 { return math.Ceil(x - wholeForgiven) }

func savedWhole(was, series, whole float64) float64 { return was - float64(series*whole) }

// savedBySizing is a quantity with strings that hold the baseline's energy less the same as
// it is.
func (s *System) savedBySizing(c *car, q string) plan {
	n := s.nested(c)
	if n == nil || n.program.number(q) < 0 {
		return plan{}
	}
	return plan{ok: true, needs: append(slices.Clone(n.needs), "strings_for_energy", q), start: func(model.Saving) evaluate {
		w := n.worker()
		return func(out, in [][]float64) {
			last := len(in) - 2
			w.set(in[:last])
			with := w.at(in[last], n.program.number(q))
			for i, own := range in[last+1] {
				out[0][i] = with[i] - own
			}
		}
	}}
}

// rangeOfWhole is the range that the car is sized for with whole strings.
func (s *System) rangeOfWhole(c *car) plan {
	n := s.nested(c)
	if n == nil {
		return plan{}
	}
	return plan{ok: true, needs: append(slices.Clone(n.needs), "strings_whole"), start: func(model.Saving) evaluate {
		w := n.worker()
		return func(out, in [][]float64) {
			last := len(in) - 1
			w.set(in[:last])
			copy(out[0], w.at(in[last], 0))
		}
	}}
}

// size puts in the strings of the cars that are sized, when all else is decided.
func (s *System) size(c *car) error {
	if !c.SizeFor.Sizes() {
		return nil
	}
	refused := func(found, allowed string) error { return &Refused{c.Name + ".size_for", found, allowed} }
	if c == s.baseline {
		return refused(string(c.SizeFor)+" of the baseline", "strings are sized against the baseline: state it of another vehicle")
	}
	if s.source(c, "strings_for_energy").kind != made {
		return refused("strings that cannot be computed", "not given: "+strings.Join(s.lacking(c, "strings_for_energy", map[string]bool{}), ", ")+" (the baseline's pack_energy, series, and cell_charge and cell_voltage or cell_energy)")
	}
	if c.SizeFor == SizeForEnergy {
		c.sources["parallel"] = &source{kind: made, way: &way{eval: copyColumn}, needs: []string{c.Name + ".strings_for_energy"}}
		return nil
	}
	of := string(c.SizeFor)
	if !s.has(c, of) || !s.has(s.baseline, of) {
		who := c
		if s.has(c, of) {
			who = s.baseline
		}
		return refused(of+" of "+who.Name+" cannot be computed", "not given: "+strings.Join(s.missing(who, of).Needs, ", "))
	}
	if c.Given["tray_resizing"] != "" {
		return refused(of+" beside tray_resizing", "sizing holds the pack's own change of mass already: one or the other")
	}
	n := s.nested(c)
	if n == nil {
		return refused("a "+of+" that does not change with the strings", "what its energy and mass are made of has to be stated by the cell: cell_charge, cell_voltage, usable_share, and the pack's parts or pack_specific_energy")
	}
	target, _ := s.full(s.baseline, of)
	needs := append(slices.Clone(n.needs), c.Name+".strings_for_energy", target)
	for i, need := range needs {
		needs[i] = strings.TrimPrefix(need, "=")
	}
	c.sources["parallel"] = &source{kind: made, needs: needs, way: &way{start: func(model.Saving) evaluate {
		w := n.worker()
		return func(out, in [][]float64) {
			last := len(in) - 2
			w.set(in[:last])
			w.solve(out[0], in[last], in[last+1])
		}
	}}}
	return nil
}
