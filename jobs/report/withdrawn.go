package report

import "strings"

// A Withdrawn is an input, an output or a claim of the study that no longer counts.
type Withdrawn struct {
	Name     string `json:"name"`
	StatedAs string `json:"stated_as"`
	HowKnown string `json:"how_known,omitempty"`
	Source   string `json:"source,omitempty"`
	Why      string `json:"why"`
}

// An Event is an entry of a study's history.
type Event struct {
	Of   string `json:"of,omitempty"` // the name of what changed; "" for the study as a whole
	On   string `json:"on"`
	What string `json:"what"`
	Why  string `json:"why,omitempty"`
}

// Told is what was stated, where it was from, and why it no longer counts.
func (w Withdrawn) Told() string {
	text := w.Name + ": " + w.StatedAs
	var known []string
	for _, x := range []string{strings.ReplaceAll(w.HowKnown, "_", " "), w.Source} {
		if x != "" {
			known = append(known, x)
		}
	}
	if len(known) > 0 {
		text += " (" + strings.Join(known, ", ") + ")"
	}
	return text + ". Withdrawn: " + ended(w.Why)
}

// Told is when what changed, and why.
func (e Event) Told() string {
	text := e.On + ": "
	if e.Of != "" {
		text += e.Of + ", "
	}
	text += e.What
	if e.Why != "" {
		text += ". Why: " + e.Why
	}
	return ended(text)
}

// ended puts a full stop behind a sentence that has no end of its own.
func ended(text string) string {
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "!") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// writeWithdrawn tells what no longer counts and what the study says of its own past.
func (a *Answer) writeWithdrawn(b *page) {
	if len(a.Withdrawn) > 0 {
		b.WriteString("\nWHAT NO LONGER COUNTS\n")
	}
	for _, w := range a.Withdrawn {
		b.item(w.Told())
	}
	if len(a.History) > 0 {
		b.WriteString("\nTHE STUDY'S HISTORY\n")
	}
	for _, e := range a.History {
		b.item(e.Told())
	}
}
