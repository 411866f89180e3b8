package uncertain

import (
	"slices"

	"proofmass/jobs/study/source"
)

// HowKnown returns the closed list of how a number may be known.
func HowKnown() []string { return slices.Clone(howKnown) }

// howKnown is the closed list of how a number may be known.
var howKnown = []string{"weighed", "measured", "calculated", "data_sheet", "handbook", "read_off_picture", "filed", "announced", "leaked", "rule", "guess"}

// FreeText is what stands beside a number for the reader. It is a stranger's text:
// whoever prints it escapes it.
type FreeText struct {
	Source, Note, Link, AsOf, SaidBy, SaidOn string
	HowKnown                                 string // one of HowKnown, or ""
	Meaning                                  string // of own, extra and formula-model quantities
	History                                  []Event
}

// An Event is an entry of a history: what changed, when, and why.
type Event struct {
	Of            string // the name of what it stands beside; "" for the study's own
	On, What, Why string
}

// Told reports whether anything says how the number is known.
func (t FreeText) Told() bool {
	return t.Source != "" || t.Note != "" || t.Link != "" || t.SaidBy != "" || t.HowKnown != ""
}

// Empty reports whether nothing is said.
func (t FreeText) Empty() bool {
	return !t.Told() && t.AsOf+t.SaidOn+t.Meaning == "" && len(t.History) == 0
}

// FreeKeys are the handlers of the texts that may stand beside a number.
func FreeKeys(t *FreeText) source.Handlers {
	into := func(to *string) func(v source.Field) {
		return func(v source.Field) { *to, _ = v.Text("a text is expected; one with a colon or a comma is quoted") }
	}
	return source.Handlers{
		"source": into(&t.Source), "note": into(&t.Note), "link": into(&t.Link), "as_of": into(&t.AsOf),
		"said_by": into(&t.SaidBy), "said_on": into(&t.SaidOn), "meaning": into(&t.Meaning),
		"how_known": func(v source.Field) { t.HowKnown, _ = v.OneOf(howKnown...) },
		"history":   func(v source.Field) { t.History = History(v) },
	}
}

// Reason reads why something was withdrawn, which must be said.
func Reason(v source.Field) string {
	const allowed = "the reason is expected, a text"
	text, ok := v.Text(allowed)
	if ok && (text == "" || text == "yes" || text == "no" || text == "true" || text == "false") {
		v.Err("no reason", allowed)
	}
	return text
}

// History reads what changed, when, and why: texts that no number depends on.
func History(v source.Field) []Event {
	list, ok := v.List("history is a list: [{on: 2 May, what: pack weighed, why: it was a guess}]")
	if !ok || !v.AtMost(source.MostEntries, "entries of history") {
		return nil
	}
	var events []Event
	for _, f := range list {
		var e Event
		text := func(to *string) func(source.Field) {
			return func(v source.Field) { *to, _ = v.Text("a text is expected; one with a colon or a comma is quoted") }
		}
		before := v.Errors().Count()
		source.Handlers{"on": text(&e.On), "what": text(&e.What), "why": text(&e.Why)}.Read(f, "an entry of history")
		switch {
		case v.Errors().Count() > before:
		case e.On == "" || e.What == "":
			f.Err("an entry without on or what", "on says when, what says what changed; why may stand beside")
		default:
			events = append(events, e)
		}
	}
	return events
}
