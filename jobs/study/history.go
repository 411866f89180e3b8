package study

import (
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// history reads what changed in the study as a whole.
func (r *reader) history(v source.Field) {
	r.s.History = slices.Concat(uncertain.History(v), r.s.History)
}

// withdraw keeps in sight what no longer counts, with its history.
func (r *reader) withdraw(name, statedAs string, free FreeText, why string) {
	r.s.Withdrawn = append(r.s.Withdrawn, Withdrawn{name, statedAs, free.HowKnown, free.Source, why})
	r.s.past(name, free)
}

// past adds the history of one of the study's names to the study's.
func (s *Study) past(name string, free FreeText) {
	for _, e := range free.History {
		e.Of = name
		s.History = append(s.History, e)
	}
}

// isWithdrawn reports whether a name is that of something that no longer counts.
func (s *Study) isWithdrawn(name string) bool {
	return slices.ContainsFunc(s.Withdrawn, func(w Withdrawn) bool { return w.Name == name })
}
