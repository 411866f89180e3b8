package study

import (
	"proofmass/jobs/study/source"
)

// history reads what changed in the study, when, and why: texts that no number depends on.
func (r *reader) history(v source.Field) {
	list, ok := v.List("history is a list: [{on: 2 May, what: pack weighed, why: it was a guess}]")
	if !ok || !v.AtMost(source.MostEntries, "entries of history") {
		return
	}
	for _, f := range list {
		var e Event
		text := func(to *string) func(source.Field) {
			return func(v source.Field) { *to, _ = v.Text("a text is expected; one with a colon or a comma is quoted") }
		}
		before := r.errs.Count()
		source.Handlers{"on": text(&e.On), "what": text(&e.What), "why": text(&e.Why)}.Read(f, "an entry of history")
		switch {
		case r.errs.Count() > before:
		case e.On == "" || e.What == "":
			f.Err("an entry without on or what", "on says when, what says what changed; why may stand beside")
		default:
			r.s.History = append(r.s.History, e)
		}
	}
}
