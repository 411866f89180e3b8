package study

import "proofmass/jobs/study/source"

// resolver looks up names: it turns declarations into a Study, or finds what is wrong.
type resolver struct {
	*declared
	s      *Study
	errs   *source.Collector
	graph  *Graph
	looped map[string]bool // names in a loop that is reported

	defaulted map[string]Kind // what defaultsRead found
}

// carless reports whether a study of vehicles has none to go on with, so that what they
// compute is unknown.
func (r *resolver) carless() bool { return !r.formulas() && r.s.System == nil }
