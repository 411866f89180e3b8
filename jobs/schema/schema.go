// Package schema makes a JSON Schema (draft 2020-12) of the study file, by which editors
// complete and check one as it is written. It is made of what the reader of studies is held
// to: the keys of study.Language, the ways to state a number, the quantities of the
// catalogue. What a schema cannot say (units, formulas, names that are known) the reader
// says: proofmass check.
package schema

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/study"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/vehicle"
	"proofmass/sampling/design"
)

// node is a schema, or a part of one.
type node = map[string]any

// JSON is the schema of studies of a catalogue, indented. The same catalogue gives the same
// bytes.
func JSON(catalogue *study.Catalogue) ([]byte, error) {
	m := maker{catalogue: catalogue, sections: map[string]study.KeySection{}}
	for _, s := range study.Language() {
		m.sections[s.Title] = s
	}
	text, err := json.MarshalIndent(m.root(), "", "  ")
	return append(text, '\n'), err
}

type maker struct {
	catalogue *study.Catalogue
	sections  map[string]study.KeySection
}

// Titles of the sections of the language that a schema knows.
const (
	theStudy, known, besideNumber, aVehicle     = "the study", "KNOWN: how well a number is known", "beside any number", "a vehicle"
	anOutput, aClaim, sample, halfWidth         = "an output", "a claim", "sample", "half_width of sample"
	indices, together, columnOfValues, usedFile = "indices", "an entry of together", "values", "a used file"
	insteadOfNames, choiceValues, best, front   = "choices, instead of names", "values of a choice", "best", "an entry of front"
	aLine, aBillFile                            = "a line of a bill", "a bill in a file"
	ownSchedule, measured, couldMeasure         = "a schedule of your own", "a fact of measured", "a measurement of could_measure"
	account                                     = "an account of either"
)

// root is the schema of a study or of a file that studies use.
func (m *maker) root() node {
	root := m.object(theStudy, m.topLevel())
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "A study of proofmass"
	root["description"] = "What is known, how well it is known, and what is claimed. proofmass help study tells each key; proofmass check tells what a schema can't."
	root["required"] = []string{"format"}
	formulas := node{"properties": node{"model": node{"const": "formulas"}}, "required": []string{"model"}}
	root["if"] = formulas
	root["then"] = node{"properties": node{"inputs": m.names(ref("known"), most), "own": false, "vehicles": false, "baseline": false}}
	root["else"] = node{"properties": node{"inputs": m.quantities(node{})}}
	root["$defs"] = node{
		"scalar": node{"type": []string{"string", "number", "boolean"}}, "text": node{"type": []string{"string", "number", "boolean"}},
		"known": m.known(), "vehicle": m.vehicle(), "output": m.output(), "claim": m.claim(), "tie": m.tie(),
		"choiceValues": m.choiceValues(),
	}
	return root
}

// most is how many entries a section may have.
const most = 1000

func ref(name string) node { return node{"$ref": "#/$defs/" + name} }

func list(of node, least int) node { return node{"type": "array", "items": of, "minItems": least} }

func word(words ...string) node { return node{"enum": words} }

// name is how a study may call something of its own.
var name = node{"pattern": "^[a-z][a-z0-9_]*$", "maxLength": 64}

// names is a mapping of names that the study chooses.
func (m *maker) names(of node, atMost int) node {
	return node{"type": "object", "propertyNames": name, "additionalProperties": of, "maxProperties": atMost}
}

// topLevel are the values of the study's keys. A key that has none here is taken as it is.
func (m *maker) topLevel() map[string]node {
	return map[string]node{
		"format": {"const": 1}, "study": ref("text"), "about": ref("text"), "model": word("vehicle", "formulas"),
		"use":    {"type": "array", "items": node{"type": "string"}, "maxItems": 64},
		"inputs": {"type": "object", "maxProperties": most}, "own": m.names(ref("known"), most), "vehicles": m.names(ref("vehicle"), 64),
		"baseline": ref("text"), "outputs": m.names(ref("output"), most), "claims": m.names(ref("claim"), most),
		"together": list(ref("tie"), 0), "groups": m.names(list(ref("text"), 1), most),
		"sample": m.object(sample, map[string]node{"rows": ref("scalar"), "design": word(design.Names()...), "seed": ref("scalar"), "at_most": ref("scalar"), "rare": ref("scalar"),
			"half_width": m.object(halfWidth, nil)}),
		"indices": {"anyOf": []node{word("none"), m.object(indices, map[string]node{"pairs": word("interacting", "all", "none"), "screen": word("yes", "no"),
			"of": list(ref("text"), 1), "half_width": ref("scalar"), "at_most": ref("scalar")})}},
		"measured": list(m.fact(), 0), "could_measure": list(m.gauge(), 0),
		"either":    m.either(),
		"schedules": m.names(m.trace(), 16),
		"choices":   m.choices(), "best": m.best(), "front": m.front(),
		"history": m.past(), "keep": word("asked", "all", "summary"), "intervals": ref("scalar"), "coverage": ref("scalar"),
		"show_in": m.names(ref("text"), 100),
	}
}

// object is a mapping with the keys of a section, each with what the language says of it.
func (m *maker) object(section string, values map[string]node) node {
	properties := node{}
	for _, k := range m.sections[section].Keys {
		if k.Key == strings.ToUpper(k.Key) { // a word that stands for many names
			continue
		}
		properties[k.Key] = told(values[k.Key], k)
	}
	for _, key := range m.sections[section].Also {
		if free := m.free(key); free != nil {
			properties[key] = free
		}
	}
	return node{"type": "object", "properties": properties, "additionalProperties": false}
}

// told is a schema with the key's form and meaning.
func told(of node, k study.KeyHelp) node {
	out := node{"description": k.Meaning, "markdownDescription": "`" + k.Form + "`: " + k.Meaning}
	maps.Copy(out, of)
	return out
}

// free is the schema of a text that may stand beside any number, nil for any other key.
func (m *maker) free(key string) node {
	for _, k := range m.sections[besideNumber].Keys {
		switch {
		case k.Key != key:
		case key == "history":
			return told(m.past(), k)
		case key == "how_known":
			return node{"enum": uncertain.HowKnown(), "description": "how the number is known"}
		default:
			return told(ref("text"), k)
		}
	}
	return nil
}

// past is what changed in the study or in what stands beside it.
func (m *maker) past() node { return list(m.object("an entry of history", nil), 0) }

// vehicle is what may stand under a vehicle; nothing at all where a used file has it.
func (m *maker) vehicle() node {
	special := m.object(aVehicle, map[string]node{
		"based_on":  {"anyOf": []node{ref("text"), {"type": "array", "items": ref("text"), "minItems": 1, "maxItems": 8}}},
		"displaced": m.names(ref("known"), most), "added": m.names(ref("known"), most),
		"bill": m.bill(), "certified": word("yes", "no"), "mass_basis": word("us_curb", "eu_running_order"), "size_for": word(vehicle.SizeForWords()...),
	})
	vehicle := m.quantities(special["properties"].(node))
	vehicle["type"] = []string{"object", "null"}
	return vehicle
}

// quantities is a mapping of what can be stated of a car, and of further keys.
func (m *maker) quantities(besides node) node {
	properties := maps.Clone(besides)
	for _, q := range m.catalogue.Quantities() {
		if !q.Stated {
			continue
		}
		meaning := q.Meaning
		if u := q.Unit.String(); u != "1" {
			meaning += ", in " + u
		}
		if d := m.catalogue.DefaultText(q.Name); d != "" {
			meaning += "; left out: " + d
		}
		of := ref("known")
		if len(q.Words) > 0 {
			of = wordOr(q)
		}
		of = maps.Clone(of)
		of["description"] = meaning
		properties[q.Name] = of
	}
	return node{"type": "object", "properties": properties, "additionalProperties": false}
}

// wordOr is a quantity of which words stand for numbers: an editor offers them.
func wordOr(q model.Quantity) node {
	return node{"anyOf": []node{word(slices.Sorted(maps.Keys(q.Words))...), ref("known")}}
}

// output is an expression, alone or with a unit and texts.
func (m *maker) output() node {
	object := m.object(anOutput, map[string]node{"formula": ref("scalar"), "unit": ref("text"), "withdrawn": ref("text")})
	object["required"] = []string{"formula"}
	return node{"anyOf": []node{ref("scalar"), object}}
}

// claim is an announced number or a condition, never parts of both.
func (m *maker) claim() node {
	scalar := ref("scalar")
	claim := m.object(aClaim, map[string]node{"of": ref("text"), "announced": scalar, "rounded_to": scalar, "sense": word("at_least", "at_most", "about"), "holds": scalar, "could_mean": list(ref("text"), 1), "withdrawn": ref("text")})
	announced := node{"required": []string{"of", "announced", "sense"}, "properties": node{"holds": false},
		"if": node{"properties": node{"sense": node{"const": "about"}}, "required": []string{"sense"}}, "then": node{"required": []string{"rounded_to"}}}
	condition := node{"required": []string{"holds"}, "properties": node{"of": false, "announced": false, "rounded_to": false, "sense": false, "could_mean": false}}
	claim["oneOf"] = []node{announced, condition}
	return claim
}

// swept is a mapping of quantities, each with its values.
func swept(of node) node {
	return node{"type": "object", "additionalProperties": of, "minProperties": 1, "maxProperties": 50}
}

// choiceValues is one value of a choice, a list of them, or so many from one to another.
func (m *maker) choiceValues() node {
	steps := m.object(choiceValues, map[string]node{"from": ref("scalar"), "to": ref("scalar"), "steps": ref("scalar")})
	steps["required"] = []string{"from", "to", "steps"}
	return node{"anyOf": []node{ref("scalar"), list(ref("scalar"), 1), steps}}
}

// choices are quantities with their values, whole combinations, or some that fill a space.
func (m *maker) choices() node {
	values := map[string]node{"list": list(swept(ref("scalar")), 1), "spread": ref("scalar"), "over": swept(ref("choiceValues"))}
	words := m.object(insteadOfNames, values)
	words["oneOf"] = []node{{"required": []string{"list"}, "maxProperties": 1}, {"required": []string{"spread", "over"}}}
	names := swept(ref("choiceValues"))
	names["properties"] = node{"list": false, "spread": false, "over": false}
	return node{"anyOf": []node{words, names}}
}

// trace is a speed trace of the study's own.
func (m *maker) trace() node {
	t := m.object(ownSchedule, map[string]node{"file": ref("text"), "time": ref("text"), "speed": ref("text"), "grade": word("%", "1")})
	t["required"] = []string{"file", "time", "speed"}
	return t
}

func atWords() node { return word("mean", "p05", "p10", "p25", "p50", "p75", "p90", "p95") }

func (m *maker) best() node {
	b := m.object(best, map[string]node{"maximise": ref("text"), "minimise": ref("text"), "at": atWords(), "subject_to": list(ref("text"), 0)})
	b["oneOf"] = []node{{"required": []string{"maximise"}}, {"required": []string{"minimise"}}}
	return b
}

func (m *maker) front() node {
	aim := m.object(front, map[string]node{"higher": ref("text"), "lower": ref("text"), "at": atWords()})
	aim["oneOf"] = []node{{"required": []string{"higher"}}, {"required": []string{"lower"}}}
	f := list(aim, 2)
	f["maxItems"] = 4
	return f
}

// fact is what was measured, in one way.
func (m *maker) fact() node {
	scalar := ref("scalar")
	reading := node{"type": "object", "additionalProperties": scalar}
	fact := m.object(measured, map[string]node{"of": ref("text"), "value": scalar, "normal": reading, "likely": scalar, "student": reading,
		"between": {"type": "array", "items": scalar, "minItems": 2, "maxItems": 2}, "within": scalar, "rounded_to": scalar, "unit": ref("text"), "withdrawn": ref("text")})
	fact["required"] = []string{"of"}
	var ways []node
	for _, way := range []string{"value", "normal", "likely", "student", "between"} {
		ways = append(ways, node{"required": []string{way}})
	}
	fact["oneOf"] = ways
	return fact
}

// either is two to eight rival accounts, each with lines of its own.
func (m *maker) either() node {
	one := m.object(account, map[string]node{"weight": ref("scalar"), "inputs": {"type": "object", "maxProperties": most}, "own": m.names(ref("known"), most),
		"vehicles": m.names(ref("vehicle"), 64), "together": list(ref("tie"), 0)})
	all := m.names(one, 8)
	all["minProperties"] = 2
	return all
}

// gauge is a measurement that could be made.
func (m *maker) gauge() node {
	gauge := m.object(couldMeasure, map[string]node{"of": ref("text"), "sd": ref("scalar"), "price": ref("scalar")})
	gauge["required"] = []string{"of", "sd"}
	return gauge
}

func (m *maker) tie() node {
	tie := m.object(together, map[string]node{"inputs": list(ref("text"), 2), "spearman": ref("scalar"), "matrix": list(list(ref("scalar"), 2), 2)})
	tie["required"] = []string{"inputs"}
	tie["oneOf"] = []node{{"required": []string{"spearman"}}, {"required": []string{"matrix"}}}
	return tie
}
