package compare

import (
	"fmt"
	"strings"

	"proofmass/jobs/report"
)

func (b *text) inputs(all []Input) {
	var stated []string
	var follow []string
	for i := range all {
		if all[i].Change == Follows {
			follow = append(follow, all[i].Name)
		} else {
			stated = append(stated, all[i].Told())
		}
	}
	if len(stated) > 0 {
		b.WriteString("\nWhat was put in\n")
	}
	for i, line := range stated {
		if i == mostInputs && len(stated) > mostInputs+1 {
			b.Para(fmt.Sprintf("and %d more (--json)", len(stated)-mostInputs), "  ")
			break
		}
		b.item(line)
	}
	if len(follow) > 0 {
		b.Para("From these follow other values of "+strings.Join(shortened(follow, mostInputs), ", ")+".", "  ")
	}
}

// item is a paragraph whose further lines stand in.
func (b *text) item(line string) {
	b.WriteString("  " + strings.TrimLeft(report.Wrap(line, "    ", b.Width), " "))
}

// Told is an input's change in words.
func (in *Input) Told() string {
	before, now, known := in.InWords()
	switch in.Change {
	case New:
		return in.Name + ": " + now + " (" + before + " before)"
	case Gone:
		return in.Name + ": " + before + " before; " + now + " now"
	case Words:
		return in.Name + ": the same number; " + known
	}
	text := in.Name + ": " + before + " -> " + now
	if before == now {
		text = in.Name + ": " + now + ", of other numbers"
	}
	if in.Before.HowKnown != in.After.HowKnown {
		text += "; " + known
	}
	return text
}

// InWords is what was believed, what is now, and how it is known: both ways where they differ.
func (in *Input) InWords() (before, now, known string) {
	switch in.Change {
	case New:
		return absent(in.Before), in.After.StatedAs, in.After.known()
	case Gone:
		return in.Before.StatedAs, absent(in.After), in.Before.known()
	}
	known = in.After.known()
	if was := in.Before.known(); was != known {
		known = was + " -> " + known
	}
	return in.Before.StatedAs, in.After.StatedAs, known
}

func (b *Belief) known() string {
	text := strings.ReplaceAll(b.HowKnown, "_", " ")
	if b.Source != "" {
		if text != "" {
			text += ", "
		}
		text += b.Source
	}
	if text == "" {
		return "not said how known"
	}
	return text
}

func absent(b *Belief) string {
	if b == nil {
		return "not stated"
	}
	return "computed"
}
