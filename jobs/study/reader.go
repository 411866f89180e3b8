package study

import (
	"cmp"
	"path/filepath"
	"strconv"
	"strings"

	"proofmass/jobs/study/source"
)

// Read reads and checks the study file at path and the files that it uses. The
// error is of type Errors and holds every mistake that was found.
func Read(path string, o Options) (*Study, error) {
	data, err := source.ReadStudy(path)
	if err != nil {
		return nil, Errors{{Place: Place{File: path}, Found: err.Error(), Allowed: "a study is a YAML file"}}
	}
	return readBytes(path, data, o)
}

// readBytes is Read for bytes at hand, stage by stage: fields, declarations, a study.
func readBytes(path string, data []byte, o Options) (*Study, error) {
	errs := &source.Collector{}
	s := newStudy(path, data, o)
	if root, ok := source.Parse(path, data, errs); ok {
		if accounts := accountsOf(root, errs); len(accounts) > 0 {
			s.readAccounts(root, accounts, data, o, errs)
		} else {
			resolve(s, declare(s, root, o, errs), errs)
		}
	}
	if errs.Count() > 0 {
		return nil, errs.All(path)
	}
	return s, nil
}

func newStudy(path string, data []byte, o Options) *Study {
	return &Study{Path: path, Catalogue: cmp.Or(o.Catalogue, BuiltIn()), Overrides: map[string]string{}, Files: []File{file(path, filepath.Base(path), data)}}
}

// declare reads the sections of a study and of the files it uses.
func declare(s *Study, root source.Field, o Options, errs *source.Collector) *declared {
	r := &reader{declared: &declared{model: "vehicle", catalogue: s.Catalogue, outputNamed: map[string]*outputDecl{}}, o: o, s: s, errs: errs, root: root}
	r.numbers.Open = r.valuesFile
	r.study()
	s.Currency = r.numbers.Currency()
	return r.declared
}

// study reads the top-level keys. What each means may depend on model and on the
// used files, so these come first whatever their order in the file.
func (r *reader) study() {
	top := map[string]source.Field{}
	take := source.Handlers{}
	sections := []struct {
		key  string
		read func(v source.Field)
	}{
		{"format", r.format}, {"study", r.name}, {"about", r.about}, {"model", r.modelName}, {"schedules", r.schedules}, {"use", r.use},
		{"inputs", r.sharedInputs}, {"own", r.ownQuantities}, {"vehicles", r.studyVehicles}, {"baseline", r.baselineName},
		{"outputs", r.extraOutputs}, {"claims", r.allClaims}, {"sample", r.sample}, {"indices", r.indices},
		{"together", r.together}, {"groups", r.groups}, {"keep", r.keep}, {"intervals", r.intervals}, {"coverage", r.coverage}, {"history", r.history}, {"exact", r.exact}, {"show_in", r.showIn}, {"measured", r.measured}, {"could_measure", r.couldMeasure},
	}
	last := []string{"choices", "best", "front"} // once all that they speak of is stated
	for _, key := range last {
		take[key] = func(v source.Field) { top[key] = v }
	}
	for _, section := range sections {
		take[section.key] = func(v source.Field) { top[section.key] = v }
	}
	before := r.errs.Count()
	take["either"] = func(source.Field) {} // read before all else: accountsOf
	take.Read(r.root, "a study")
	if !r.root.IsMapping() {
		return
	}
	r.top = top
	if r.errs.Count() > before {
		r.refuse("study")
	} else if _, ok := top["format"]; !ok {
		r.root.Err("no format", `a study begins with "format: 1"`)
	}
	r.defaults()
	for _, section := range sections {
		if v, ok := top[section.key]; ok {
			section.read(v)
		}
	}
	r.usedFiles()
	r.override()
	r.readChoices()
	roots := map[string]source.Field{r.s.Path: r.root}
	for _, f := range r.used {
		roots[f.path] = f.root
	}
	r.s.NumbersDigest = numbersDigest(roots, r.s.Files, r.s.Overrides)
}

// defaults sets what a study need not say.
func (r *reader) defaults() {
	s := r.s
	s.Name = cmp.Or(r.o.Name, strings.TrimSuffix(filepath.Base(s.Path), filepath.Ext(s.Path)))
	s.DesignPlace = r.root.Place()
	s.Keep, s.Design = "asked", "latin"
	s.Rows, s.Seed, s.Level, s.Coverage = defaultRows, 1, 0.95, 0.95
	s.Indices = Indices{HalfWidth: 0.02, AtMost: 1_000_000, Pairs: "interacting"}
}

// override applies what the command line says instead of the study.
func (r *reader) override() {
	if r.o.Rows > 0 {
		r.s.Overrides["rows"] = strconv.Itoa(r.o.Rows)
		r.setRows(r.o.Rows)
		r.s.Stopping = Stopping{}
		r.s.Indices.AtMost = min(r.s.Indices.AtMost, 8*r.s.Rows)
	}
	if r.o.Seed != nil {
		r.s.Overrides["seed"] = strconv.FormatUint(*r.o.Seed, 10)
		r.s.Seed = *r.o.Seed
	}
}
