package study

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
	"strconv"
	"strings"

	"proofmass/model/vehicle"
)

// reader gathers what the files state, then resolves it into a Study.
type reader struct {
	o     Options
	s     *Study
	errs  collector
	money money
	main  *source

	inputs      statements // shared, by name; in a model of formulas all
	own         statements
	vehicles    []*vehicleDecl
	outputs     []*outputDecl
	outputNamed map[string]*outputDecl
	claims      []*claimDecl
	badClaims   []string // names of claims whose mistakes are reported
	indexOf     []field  // what indices are wanted of
	ties        []*tieDecl
	grouped     []*groupDecl
	top         map[string]field // the study's top-level keys
	used        []field          // the roots of the used files

	misspelt   bool             // a line that is not understood may give what seems to lack
	incomplete bool             // the vehicles are wrong, so what they compute is unknown
	looped     map[string]bool  // names in a loop that is reported
	lacks      map[string]error // why a name cannot be computed, nil if it can
	defaulted  map[string]Kind  // defaults that are read, nil until asked for
}

// statements are named inputs in file order.
type statements struct {
	order []*statement
	named map[string]*statement
}

func (l *statements) add(st *statement) {
	if l.named == nil {
		l.named = map[string]*statement{}
	}
	l.order = append(l.order, st)
	l.named[st.Name] = st
}

// Read reads and checks the study file at path and the files that it uses. The
// error is of type Errors and holds every mistake that was found.
func Read(path string, o Options) (*Study, error) {
	data, err := readBounded(path)
	if err != nil {
		return nil, Errors{{File: path, Found: err.Error(), Allowed: "a study is a YAML file"}}
	}
	return newReader(path, o).read(path, data)
}

func newReader(path string, o Options) *reader {
	return &reader{o: o, outputNamed: map[string]*outputDecl{}, s: &Study{Path: path, Overrides: map[string]string{}}}
}

// read is Read for bytes at hand.
func (r *reader) read(path string, data []byte) (*Study, error) {
	r.main = r.source(path, data)
	r.s.Files = append(r.s.Files, file(path, filepath.Base(path), data))
	if root, ok := r.main.load(); ok {
		r.study(root)
		r.resolve()
	}
	if r.errs.count > 0 {
		return nil, r.errs.all(path)
	}
	return r.s, nil
}

func (r *reader) source(path string, data []byte) *source {
	return &source{path: path, data: data, errs: &r.errs, money: &r.money, r: r}
}

func file(path, name string, data []byte) File {
	digest := sha256.Sum256(data)
	return File{Path: path, Name: name, Data: data, Digest: hex.EncodeToString(digest[:])}
}

// laterKeys are top-level keys that the format has and this version has not.
var laterKeys = []string{"schedules", "measured", "either", "choices", "best", "front", "show_in", "exact", "history"}

// study reads the top-level keys. What each means may depend on model and on the
// used files, so these come first whatever their order in the file.
func (r *reader) study(root field) {
	r.top = map[string]field{}
	take := handlers{}
	sections := []struct {
		key  string
		read func(v field)
	}{
		{"format", r.format}, {"study", r.name}, {"about", r.about}, {"model", r.model}, {"use", r.use},
		{"inputs", r.sharedInputs}, {"own", r.ownQuantities}, {"vehicles", r.studyVehicles}, {"baseline", r.baselineName},
		{"outputs", r.extraOutputs}, {"claims", r.allClaims}, {"sample", r.sample}, {"indices", r.indices},
		{"together", r.together}, {"groups", r.groups}, {"keep", r.keep}, {"intervals", r.intervals}, {"coverage", r.coverage},
	}
	for _, section := range sections {
		take[section.key] = func(v field) { r.top[section.key] = v }
	}
	before := r.errs.count
	take.read(root, "a study", laterKeys...)
	if !root.isMapping() {
		return
	}
	if _, ok := r.top["format"]; !ok && r.errs.count == before {
		root.err("no format", `a study begins with "format: 1"`)
	}
	r.defaults()
	for _, section := range sections {
		if v, ok := r.top[section.key]; ok {
			section.read(v)
		}
	}
	r.usedFiles()
	r.override()
}

// defaults sets what a study need not say.
func (r *reader) defaults() {
	s := r.s
	s.Name = strings.TrimSuffix(filepath.Base(s.Path), filepath.Ext(s.Path))
	s.Model, s.Keep, s.Design = "vehicle", "asked", "latin"
	s.Rows, s.Seed, s.Level, s.Coverage = defaultRows, 1, 0.95, 0.95
	s.Indices = Indices{HalfWidth: 0.02, AtMost: 1_000_000, Pairs: "interacting"}
}

// override applies what the command line says instead of the study.
func (r *reader) override() {
	if r.o.Rows > 0 {
		r.s.Overrides["rows"] = strconv.Itoa(r.o.Rows)
		r.setRows(r.o.Rows)
		r.s.Growth = Growth{}
		r.s.Indices.AtMost = min(r.s.Indices.AtMost, 8*r.s.Rows)
	}
	if r.o.Seed != nil {
		r.s.Overrides["seed"] = strconv.FormatUint(*r.o.Seed, 10)
		r.s.Seed = *r.o.Seed
	}
}

// wordsOf are the words that stand for numbers of a catalogue quantity.
func wordsOf(quantity string) map[string]float64 { return vehicle.Words(quantity) }
