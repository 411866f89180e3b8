package study

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/unit"
	"proofmass/sampling/design"
)

// At which an output is compared between choices.
const (
	AtMean   = "mean"
	AtChance = "chance" // of a claim
)

// A Figure is one number that each choice has: a percentile or the mean of an output, or
// the chance of a claim.
type Figure struct {
	Of string // full name of the output, or of the claim
	At string // AtMean, AtChance, or one of percentiles: p10
}

// Share is the percentile as a share, NaN for what is none.
func (f Figure) Share() float64 {
	if i := slices.Index(percentileWords, f.At); i >= 0 {
		return percentileShares[i]
	}
	return math.NaN()
}

// String is the figure as a study writes it.
func (f Figure) String() string { return f.At + "(" + f.Of + ")" }

// Column is the figure's column in the table of choices.
func (f Figure) Column() string { return strings.ReplaceAll(f.Of, ".", "_") + "_" + f.At }

var (
	percentileWords  = []string{"p05", "p10", "p25", "p50", "p75", "p90", "p95"}
	percentileShares = []float64{0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95}
)

// An Aim is a figure that is to be high, or low.
type Aim struct {
	Figure
	Lower bool
}

// A Demand is what a figure of a choice must keep to.
type Demand struct {
	Figure
	Value float64 // SI
	Below bool    // the figure may not go above it
	Text  string
}

// Best is what the best choice is the best in, among those within the limits.
type Best struct {
	Aim
	SubjectTo []Demand
}

// aimDecl is what is to be looked up of an aim or a limit.
type aimDecl struct {
	figure *Figure
	at     source.Field
	limit  *Demand
	value  string // of a limit, as written
}

// readChoices reads what the designer decides, and what the best of it is.
func (r *reader) readChoices() {
	choices, has := r.top["choices"]
	if has {
		r.choices(choices)
	}
	for _, key := range []string{"best", "front"} {
		v, asked := r.top[key]
		switch {
		case !asked:
		case !has:
			v.Err(key+" without choices", "it compares choices: choices: {NAME: [values], ...}")
		case key == "best":
			r.best(v)
		default:
			r.front(v)
		}
	}
	if r.s.Choices != nil {
		r.choiceRows(choices)
	}
}

// choiceRows holds the rows of all choices to what may be run.
func (r *reader) choiceRows(v source.Field) {
	c, n := r.s.Choices, r.s.Choices.Count()
	c.Looks = 1
	switch {
	case r.s.Stopping.AtMost > 0:
		r.top["sample"].Err("half_width beside choices", "choices are compared on the same rows, and what is surely off stops early: sample: {rows: N}, N for those that stay")
	case r.s.Rows > MostRows/n:
		v.Err(fmt.Sprintf("%d choices of %d rows", n, r.s.Rows), fmt.Sprintf("at most %d rows are run: fewer choices, or sample: {rows: N}", MostRows))
	default:
		r.looks()
	}
}

const (
	mostLooks = 5       // a sixteenth of the rows before the first
	leastLook = 512     // rows of the first: 32 in each replicate
	mostRound = 131_072 // rows of a round, of which a replicate is one slice
)

// looks cuts the rows of a choice into rounds, so that the rows double from look to look.
func (r *reader) looks() {
	s := r.s
	if s.Best == nil && s.Front == nil || s.Choices.Count() < 2 || s.Design == "latin_low_correlation" {
		return
	}
	asked := s.Rows
	looks := mostLooks
	for ; looks > 1 && asked>>(looks-1) < leastLook; looks-- {
	}
	for ; looks > 2 && asked>>(looks-1) < s.tailLook(); looks-- {
	}
	for asked>>(looks-1) > mostRound {
		looks++
	}
	rounds := 1 << (looks - 1)
	each, err := design.RoundRows(s.Design, (asked+rounds-1)/rounds)
	if err != nil {
		return
	}
	if each*rounds != asked {
		s.RowsNote = fmt.Sprintf("Rows of a choice asked for: %d; in %d rounds a %s design takes %d", asked, rounds, s.Design, each*rounds)
	}
	s.Choices.Looks, s.Rows = looks, each
}

// tailLook is how many rows a round has to have for a percentile to tell choices apart: 50
// beyond it in each of 16 replicates.
func (s *Study) tailLook() int {
	most := 0
	for _, f := range s.Compared() {
		if p := f.Share(); p == p {
			most = max(most, int(math.Ceil(16*50/min(p, 1-p))))
		}
	}
	return most
}

// Compared are the figures in which choices are compared, some perhaps twice.
func (s *Study) Compared() []Figure {
	var all []Figure
	if s.Best != nil {
		all = append(all, s.Best.Figure)
		for _, d := range s.Best.SubjectTo {
			all = append(all, d.Figure)
		}
	}
	for _, a := range s.Front {
		all = append(all, a.Figure)
	}
	return all
}

// ComparedOutputs are the names of outputs in which choices are compared.
func (s *Study) ComparedOutputs() []string {
	var names []string
	for _, f := range s.Compared() {
		if f.At != AtChance {
			names = append(names, f.Of)
		}
	}
	return names
}

const bestForm = "best is {maximise or minimise: OUTPUT, at: p10, subject_to: [chance(CLAIM) >= 90 %, ...]}"

// best reads in what a choice is the best.
func (r *reader) best(v source.Field) {
	b := &Best{}
	aims := 0
	aim := func(lower bool) func(f source.Field) {
		return func(f source.Field) {
			aims++
			b.Lower = lower
			if b.Of, _ = f.Text("the name of an output is expected"); b.Of != "" {
				r.aims = append(r.aims, aimDecl{figure: &b.Figure, at: f})
			}
		}
	}
	before := r.errs.Count()
	source.Handlers{"maximise": aim(false), "minimise": aim(true), "at": func(f source.Field) { b.At = at(f) },
		"subject_to": func(f source.Field) { r.limits(f, b) }}.Read(v, "best")
	switch {
	case r.errs.Count() > before:
		return
	case aims != 1:
		v.Err(fmt.Sprintf("%d of maximise and minimise", aims), bestForm)
		return
	case b.At == "":
		b.At = "p50"
	}
	r.s.Best = b
}

// at reads at what an output is compared.
func at(f source.Field) string {
	word, _ := f.OneOf(append([]string{AtMean}, percentileWords...)...)
	return word
}

var figureCall = regexp.MustCompile(`^([a-z][a-z0-9]*)\(\s*([a-z][a-z0-9_.]*)\s*\)$`)
var limitText = regexp.MustCompile(`^(.*?)\s*(>=|<=)\s*(.*)$`)

const limitForm = "a limit is chance(CLAIM) >= 90 % or p10(OUTPUT) >= 400 km, with >= or <="

// limits reads what the best choice must keep to.
func (r *reader) limits(v source.Field, b *Best) {
	list, ok := v.List("a list is expected: [" + "chance(CLAIM) >= 90 %, ...]")
	if !ok || !v.AtMost(20, "limits") {
		return
	}
	b.SubjectTo = make([]Demand, len(list))
	for i, f := range list {
		text, ok := f.Text(limitForm)
		if !ok {
			continue
		}
		l := &b.SubjectTo[i]
		parts := limitText.FindStringSubmatch(text)
		if parts == nil || !l.call(parts[1]) {
			f.Err(f.What(), limitForm)
			continue
		}
		l.Below, l.Text = parts[2] == "<=", source.Printable(text, 200)
		r.aims = append(r.aims, aimDecl{figure: &l.Figure, at: f, limit: l, value: parts[3]})
	}
}

// call reads p10(OUTPUT), mean(OUTPUT) or chance(CLAIM).
func (f *Figure) call(text string) bool {
	m := figureCall.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil || m[1] != AtMean && m[1] != AtChance && !slices.Contains(percentileWords, m[1]) {
		return false
	}
	f.At, f.Of = m[1], m[2]
	return true
}

const frontForm = "front is a list of two to four of {higher: OUTPUT, at: p10}, {lower: OUTPUT}, {higher: chance(CLAIM)}"

// front reads under what choices are weighed against one another.
func (r *reader) front(v source.Field) {
	list, ok := v.List(frontForm)
	if !ok {
		return
	}
	if len(list) < 2 || len(list) > 4 {
		v.Err(fmt.Sprintf("%d entries", len(list)), frontForm)
		return
	}
	aims := make([]Aim, len(list))
	for i, f := range list {
		r.frontAim(f, &aims[i])
		if aims[i].At != "" && slices.ContainsFunc(aims[:i], func(a Aim) bool { return a.Figure == aims[i].Figure }) {
			f.Err(aims[i].String()+" stands there already", "each figure once: one way round it adds nothing, the other way no choice is worse than another")
		}
	}
	r.s.Front = aims
}

func (r *reader) frontAim(v source.Field, a *Aim) {
	n, chance := 0, false
	aim := func(lower bool) func(f source.Field) {
		return func(f source.Field) {
			n++
			a.Lower = lower
			text, ok := f.Text("the name of an output, or chance(CLAIM), is expected")
			if !ok {
				return
			}
			if strings.Contains(text, "(") {
				if chance = a.call(text); !chance || a.At != AtChance {
					f.Err(f.What(), frontForm)
					return
				}
			} else {
				a.Of = text
			}
			r.aims = append(r.aims, aimDecl{figure: &a.Figure, at: f})
		}
	}
	word, before := "", r.errs.Count()
	source.Handlers{"higher": aim(false), "lower": aim(true), "at": func(f source.Field) { word = at(f) }}.Read(v, "an entry of front")
	switch {
	case r.errs.Count() > before:
	case n != 1:
		v.Err(fmt.Sprintf("%d of higher and lower", n), frontForm)
	case chance && word != "":
		v.Err("at beside chance(CLAIM)", "a chance is one number")
	case chance:
	case word == "":
		a.At = "p50"
	default:
		a.At = word
	}
}

// checkAims looks up what choices are compared in.
func (r *resolver) checkAims() {
	for _, a := range r.aims {
		switch {
		case a.figure.At == AtChance:
			r.chanceAim(a)
		default:
			r.outputAim(a)
		}
	}
}

func (r *resolver) chanceAim(a aimDecl) {
	var known []string
	for _, c := range r.claims {
		known = append(known, c.Name)
	}
	if len(known) > 1 {
		known = append(known, AllClaims)
	}
	switch {
	case slices.Contains(known, a.figure.Of):
	case r.badClaim(a.figure.Of) || r.missed(a.figure.Of, known, "claims"):
		return
	case len(known) == 0:
		a.at.Err("no claim is called "+source.Quote(a.figure.Of), "this study has no claims")
		return
	default:
		a.at.Err("no claim is called "+source.Quote(a.figure.Of), source.SuggestOr(a.figure.Of, known))
		return
	}
	r.limitValue(a, unit.SI(unit.One), "a chance")
}

func (r *resolver) outputAim(a aimDecl) {
	name := a.figure.Of
	if r.carless() || r.unclear {
		return
	}
	if _, err := r.typeOf(name); err != nil {
		uncertain.ExpressionError(a.at, err)
		return
	}
	q, ok := r.quantity(name)
	if !ok || !r.computable(a.at, 0, name) {
		return
	}
	r.limitValue(a, q.Unit, name)
}

// limitValue reads the number of a limit in the unit of what it limits.
func (r *resolver) limitValue(a aimDecl, shown unit.Unit, what string) {
	if a.limit == nil {
		return
	}
	number, rest, _ := strings.Cut(strings.TrimSpace(a.value), " ")
	if rest == "" && strings.HasSuffix(number, "%") {
		number, rest = strings.TrimSuffix(number, "%"), "%"
	}
	x, err := unit.ParseNumber(number)
	u := unit.SI(unit.One)
	if err == nil && rest != "" {
		u, err = unit.Parse(strings.TrimSpace(rest))
	}
	switch {
	case err != nil:
		a.at.Err(a.at.What(), limitForm)
	case u.Dimension() != shown.Dimension():
		a.at.Err(source.Quote(a.value)+" has the dimension "+u.Dimension().String(), fmt.Sprintf("%s has %s, as in %s", what, shown.Dimension(), shown))
	default:
		a.limit.Value = u.ToSI(x)
		if a.figure.At == AtChance && (a.limit.Value < 0 || a.limit.Value > 1) {
			a.at.Err(source.Quote(a.value)+" as a chance", "a chance is from 0 % to 100 %")
		}
	}
}
