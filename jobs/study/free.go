package study

// howKnown is the closed list of how a number may be known.
var howKnown = []string{"weighed", "measured", "calculated", "data_sheet", "handbook", "read_off_picture", "filed", "announced", "leaked", "rule", "guess"}

// freeKeys are the handlers of the texts that may stand beside a number.
func freeKeys(t *FreeText) handlers {
	into := func(to *string) func(v field) {
		return func(v field) { *to, _ = v.text("a text is expected; one with a colon or a comma is quoted") }
	}
	return handlers{
		"source": into(&t.Source), "note": into(&t.Note), "link": into(&t.Link), "as_of": into(&t.AsOf),
		"said_by": into(&t.SaidBy), "said_on": into(&t.SaidOn), "meaning": into(&t.Meaning),
		"how_known": func(v field) { t.HowKnown, _ = v.oneOf(howKnown...) },
	}
}
