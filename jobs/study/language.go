package study

import (
	"slices"
	"strings"

	"proofmass/jobs/study/uncertain"
)

// A KeyHelp describes one key of the study file: how it is written, and what it says.
type KeyHelp struct {
	Key, Form, Meaning string
}

// A KeySection is the keys that one mapping of the file may have.
type KeySection struct {
	Title string
	Keys  []KeyHelp
	Also  []string // keys that stand here too and are told in another section, or by Distributions
}

// Example is a small study that runs as it stands.
const Example = `format: 1
study: lighter-pack
inputs:                                  # shared by both cars
  drag_coefficient: {between: [0.24, 0.26], source: press picture}
  frontal_area: 2.30(3) m2               # value(standard uncertainty)
  rolling_coefficient: {normal: {mean: 0.0085, sd: 0.0006}, min: 0.006}
  usable_share: {between: [92 %, 96 %], how_known: guess}
vehicles:
  today:                                 # the first is the baseline
    kerb_mass: 1610(15) kg
    pack_mass: {likely: 388 kg, within: 12 kg}
    pack_energy: 57(1) kWh
  announced:
    based_on: today                      # all else as there, the same draw
    pack_mass: {triangular: [318 kg, 329 kg, 345 kg]}
    pack_energy: {formula: today.pack_energy}
    displaced: {floor_panel: 16(3) kg}   # what the pack makes unnecessary
claims:
  lighter: {of: announced.kerb_mass_change, announced: -4 %, rounded_to: 1 %,
            sense: at_least}
`

// Language tells every key that a study may have, by the mapping in which it stands.
func Language() []KeySection {
	return []KeySection{
		{Title: "the study", Keys: []KeyHelp{
			{"format", "format: 1", "required: the version of this language"},
			{"study", "study: NAME", "its name; without it that of the file"},
			{"about", "about: TEXT", "what the study asks, for who reads it"},
			{"model", "model: vehicle | formulas", "the car model (default), or formulas alone"},
			{"use", "use: [FILE, ...]", "files whose inputs and vehicles serve here"},
			{"inputs", "inputs: {NAME: KNOWN}", "what all vehicles share"},
			{"own", "own: {NAME: KNOWN}", "helpers that the catalogue does not have"},
			{"vehicles", "vehicles: {NAME: {...}}", "the cars; the first is the baseline"},
			{"schedules", "schedules: {NAME: {...}}", "speed traces of your own to drive over"},
			{"baseline", "baseline: VEHICLE", "another one that changes count from"},
			{"outputs", "outputs: {NAME: EXPRESSION}", "what else is wanted"},
			{"claims", "claims: {NAME: {...}}", "what is claimed"},
			{"together", "together: [{...}, ...]", "inputs tied by rank correlation"},
			{"either", "either: {NAME: {...}, ...}", "rival accounts, each with a weight"},
			{"measured", "measured: [{of: ..., ...}]", "facts that the inputs must agree with"},
			{"could_measure", "could_measure: [{...}, ...]", "gauges that could be used, with their error"},
			{"choices", "choices: {NAME: [VALUE, ...]}", "what is decided: each combination is run"},
			{"best", "best: {maximise: OUTPUT, ...}", "which choice is the best, surely or perhaps"},
			{"front", "front: [{higher: OUTPUT}, ...]", "two to four aims; which choices none beats"},
			{"groups", "groups: {NAME: [INPUT, ...]}", "inputs whose share is wanted as one"},
			{"sample", "sample: {...}", "how many draws, made how"},
			{"indices", "indices: {...} | none", "how well shares are wanted, of what"},
			{"keep", "keep: asked | all | summary", "which columns of draws are stored"},
			{"history", "history: [{...}, ...]", "what changed in the study, when, and why"},
			{"intervals", "intervals: 95 %", "level of the intervals of estimates"},
			{"coverage", "coverage: 95 %", "draws within an output's own interval"},
			{"exact", "exact: yes | no", "all steps of a schedule, also in large runs"},
			{"show_in", "show_in: {QUANTITY: UNIT}", "label_range: mile, mass: lb; tables stay"},
		}},
		{Title: "KNOWN: how well a number is known", Also: slices.Concat(freeNames, distributionNames()), Keys: []KeyHelp{
			{"unit", "unit: kg/m3", "serves every number that has none"},
			{"min", "min: 0 kg", "cuts the distribution off below"},
			{"max", "max: 9 kg", "cuts it off above"},
			{"within", "likely: 9 kg, within: 5 %", "90 % lie so near to the likely value"},
			{"ends", "pert: [...], ends: 5-95 %", "low and high are percentiles, not limits"},
			{"smooth", "values: {...}, smooth: 1 g", "spreads each value of a file so far"},
			{"price", "price: 60 EUR", "of learning an uncertain one exactly"},
			{"withdrawn", "withdrawn: REASON", "counts as not stated, and stays in sight"},
		}},
		{Title: "beside any number", Keys: []KeyHelp{
			{"source", "source: TEXT", "where it is from"},
			{"how_known", "how_known: WORD", strings.Join(uncertain.HowKnown(), " ")},
			{"note", "note: TEXT", "a remark"},
			{"link", "link: TEXT", "where it can be looked up"},
			{"as_of", "as_of: TEXT", "the date of what it rests on"},
			{"said_by", "said_by: TEXT", "who said so"},
			{"said_on", "said_on: TEXT", "when"},
			{"meaning", "meaning: TEXT", "what it is, of own quantities and outputs"},
			{"history", "history: [{...}, ...]", "what changed in it, when, and why"},
		}},
		{Title: "a vehicle", Also: slices.DeleteFunc(slices.Clone(freeNames), func(key string) bool { return key == "meaning" }), Keys: []KeyHelp{
			{"QUANTITY", "QUANTITY: KNOWN", "any of `proofmass list inputs`"},
			{"based_on", "based_on: VEHICLE | [...]", "what is not stated here is as there"},
			{"displaced", "displaced: {NAME: KNOWN}", "masses that the pack makes unnecessary"},
			{"added", "added: {NAME: KNOWN}", "masses that it makes necessary"},
			{"bill", "bill: {NAME: {...}}", "its parts as weighed, or {file: pack.csv}"},
			{"certified", "certified: yes | no", "its gain is to show in a certified figure"},
			{"mass_basis", "mass_basis: us_curb", "or eu_running_order: 75 kg of driver in it"},
			{"size_for", "size_for: label_range", "strings follow; or wltc_range, energy"},
		}},
		{Title: "a line of a bill", Also: slices.DeleteFunc(slices.Clone(freeNames), func(key string) bool { return key == "meaning" || key == "history" }), Keys: []KeyHelp{
			{"mass", "mass: 9.2(1) kg", "of one, known as any number"},
			{"count", "count: 24", "how many of it; left out: one"},
			{"group", "group: tray", "what it is part of: cells rail body ..."},
			{"fate", "fate: removed", "kept changed added, against its base's bill"},
			{"x", "x: 1.42 m", "its centre behind the front axle"},
			{"y", "y: 0 m", "right of the centre plane; left out: on it"},
			{"z", "z: 0.31 m", "over the ground"},
			{"length", "length: 1.9 m", "along the car; with width and height a box"},
			{"width", "width: 1.3 m", "across it; left out: a point"},
			{"height", "height: 95 mm", "upwards"},
			{"material", "material: steel", "of what it is made, for who reads it"},
		}},
		{Title: "a bill in a file", Keys: []KeyHelp{
			{"file", "file: pack.csv", "columns item mass sd count group fate ..."},
			{"mass", "mass: kg", "unit of its columns mass and sd"},
			{"x", "x: mm", "unit of this column, where there is one;"},
			{"y", "y: mm", "so with each of these"},
			{"z", "z: mm", "as under a line of a bill"},
			{"length", "length: mm", "likewise"},
			{"width", "width: mm", "likewise"},
			{"height", "height: mm", "likewise"},
		}},
		{Title: "an output", Also: freeNames, Keys: []KeyHelp{
			{"formula", "formula: EXPRESSION", "`proofmass list functions`"},
			{"unit", "unit: kg", "in which it is shown"},
			{"withdrawn", "withdrawn: REASON", "counts as not stated, and stays in sight"},
		}},
		{Title: "a claim", Also: freeNames, Keys: []KeyHelp{
			{"of", "of: OUTPUT", "as new.kerb_mass_change, against a baseline"},
			{"announced", "announced: -4 %", "what was said, with its sign"},
			{"rounded_to", "rounded_to: 1 %", "half of it counts in favour"},
			{"sense", "sense: at_least", "at_most, about: which values bear it out"},
			{"could_mean", "could_mean: [OTHER, ...]", "outputs it may have been said of instead"},
			{"holds", "holds: CONDITION", "instead of these: when it is true"},
			{"withdrawn", "withdrawn: REASON", "is not judged, and stays in sight"},
		}},
		{Title: "sample", Keys: []KeyHelp{
			{"rows", "rows: 131_072", "how many draws"},
			{"design", "design: latin", "random sobol halton latin_low_correlation"},
			{"seed", "seed: 42", "the same seed gives the same draws"},
			{"half_width", "half_width: {...}", "instead of rows: as many as this takes"},
			{"at_most", "at_most: 1_000_000", "but no more rows than these"},
			{"rare", "rare: 1e-6", "follow claims of under 50 draws down to this"},
		}},
		{Title: "half_width of sample", Keys: []KeyHelp{
			{"chance", "chance: 0.005", "of every claim's chance"},
			{"percentiles", "percentiles: 0.3 %", "of p05, p50, p95, in % of p95 less p05"},
		}},
		{Title: "indices", Keys: []KeyHelp{
			{"half_width", "half_width: 0.02", "how well shares of outputs are to be known"},
			{"at_most", "at_most: 1_000_000", "but no more model runs than these"},
			{"pairs", "pairs: interacting", "all, none: which act together"},
			{"screen", "screen: yes | no", "set aside first what does next to nothing"},
			{"of", "of: [OUTPUT or CLAIM, ...]", "of these alone"},
		}},
		{Title: "an entry of together", Also: freeNames, Keys: []KeyHelp{
			{"inputs", "inputs: [INPUT, INPUT, ...]", "what is tied"},
			{"spearman", "spearman: -0.3", "one rank correlation for all of them"},
			{"matrix", "matrix: [[1, 0.3], [0.3, 1]]", "or each pair's"},
		}},
		{Title: "a fact of measured", Also: freeNames, Keys: []KeyHelp{
			{"of", "of: OUTPUT or INPUT", "what was measured"},
			{"value", "value: 480(6) km", "with its standard uncertainty, or:"},
			{"normal", "normal: {mean: .., sd: ..}", "sd is the instrument's, not the model's"},
			{"likely", "likely: 480 km, within: 2 %", "90 % of its readings lie so near"},
			{"student", "student: {freedom, ...}", "with middle and scale: of few readings"},
			{"between", "between: [470 km, 490 km]", "inside, or not"},
			{"within", "within: 2 %", "beside likely"},
			{"rounded_to", "rounded_to: 5 km", "the reading was rounded to such steps"},
			{"unit", "unit: km", "serves every number that has none"},
			{"withdrawn", "withdrawn: REASON", "no longer counts, and stays in sight"},
		}},
		{Title: "an account of either", Also: freeNames, Keys: []KeyHelp{
			{"weight", "weight: 60 %", "how far it is believed; left out: all alike"},
			{"inputs", "inputs: {NAME: KNOWN}", "its lines win over the study's"},
			{"own", "own: {NAME: KNOWN}", "likewise"},
			{"vehicles", "vehicles: {NAME: {...}}", "likewise, quantity by quantity"},
			{"together", "together: [{...}, ...]", "instead of the study's"},
		}},
		{Title: "a measurement of could_measure", Also: freeNames, Keys: []KeyHelp{
			{"of", "of: OUTPUT or INPUT", "what could be measured"},
			{"sd", "sd: 4 kg", "standard deviation of the gauge's own error"},
			{"price", "price: 60 EUR", "what that costs; a bare number too"},
		}},
		{Title: "choices, instead of names", Keys: []KeyHelp{
			{"list", "list: [{NAME: VALUE}, ...]", "whole combinations, as written"},
			{"spread", "spread: 60", "so many of all, that fill the space"},
			{"over", "over: {NAME: [VALUE, ...]}", "between these"},
		}},
		{Title: "values of a choice", Keys: []KeyHelp{
			{"from", "from: 90 g", "instead of a list of values: from here"},
			{"to", "to: 110 g", "to here, both among them"},
			{"steps", "steps: 5", "so many values"},
		}},
		{Title: "best", Keys: []KeyHelp{
			{"maximise", "maximise: OUTPUT", "what is to be high"},
			{"minimise", "minimise: OUTPUT", "or what is to be low"},
			{"at", "at: p10", "mean, p05 p10 p25 p50 (default) p75 p90 p95"},
			{"subject_to", "subject_to: [DEMAND, ...]", "chance(CLAIM) >= 90 %, p10(OUTPUT) <= 9 kg"},
		}},
		{Title: "an entry of front", Keys: []KeyHelp{
			{"higher", "higher: OUTPUT", "what is to be high, or chance(CLAIM)"},
			{"lower", "lower: OUTPUT", "or what is to be low"},
			{"at", "at: p10", "as under best; a chance has none"},
		}},
		{Title: "an entry of history", Keys: []KeyHelp{
			{"on", "on: 2 May", "when"},
			{"what", "what: TEXT", "what changed"},
			{"why", "why: TEXT", "and why"},
		}},
		{Title: "a schedule of your own", Keys: []KeyHelp{
			{"file", "file: trip.csv", "CSV or Parquet with columns time and speed"},
			{"time", "time: s", "unit of its times, in steps of 0.1 to 1 s"},
			{"speed", "speed: km/h", "unit of its speeds"},
			{"grade", "grade: '%'", "of a column grade, rise over run"},
		}},
		{Title: "values", Keys: []KeyHelp{
			{"file", "file: weights.csv", "CSV or Parquet, beside the study"},
			{"column", "column: mass", "whose numbers are drawn from"},
		}},
		{Title: "a used file", Keys: []KeyHelp{
			{"format", "format: 1", "as in a study, and about, inputs, own"},
			{"about", "about: TEXT", "what the file holds"},
			{"inputs", "inputs: {NAME: KNOWN}", "the study's own lines win"},
			{"own", "own: {NAME: KNOWN}", "likewise"},
			{"vehicles", "vehicles: {NAME: {...}}", "templates: they run where a study names them"},
		}},
	}
}

// freeNames are the keys of the texts that may stand beside any number.
var freeNames = []string{"source", "how_known", "note", "link", "as_of", "said_by", "said_on", "meaning", "history"}

func distributionNames() []string {
	var names []string
	for _, d := range uncertain.Distributions() {
		names = append(names, d.Key)
	}
	return names
}

// KeyNamed finds a key of the language by its name, the title of its section beside it.
func KeyNamed(name string) (title string, key KeyHelp, ok bool) {
	for _, section := range Language() {
		for _, k := range section.Keys {
			if k.Key == name {
				return section.Title, k, true
			}
		}
	}
	return "", KeyHelp{}, false
}
