package report

import (
	"fmt"
	"slices"
	"strings"
)

// shortSizes lists the quantities that claims speak of, a vehicle a line, its change
// beside it, and returns how many quantities it leaves out.
func (a *Answer) shortSizes(b *page) int {
	order, rows := a.byQuantity()
	spoken := slices.DeleteFunc(slices.Clone(order), func(q string) bool { return !a.speakOf(rows[q]) })
	if len(spoken) == 0 {
		spoken = order
	}
	spoken = spoken[:min(mostQuantities, len(spoken))]
	if len(spoken) == 0 {
		return len(order)
	}
	l := b.shortLayout(rows, spoken)
	head := fmt.Sprintf("%*s  middle, nine in ten", l.name+l.who+2, "")
	if slices.ContainsFunc(a.Sizes, func(s Size) bool { return strings.HasSuffix(s.Quantity, "_change") }) {
		head = fmt.Sprintf("%*s  %-*s  change", l.name+l.who+2, "", l.middle+l.span+2, "middle, nine in ten")
	}
	b.WriteString("\n" + head + "\n")
	for _, q := range spoken {
		name := q
		for _, s := range rows[q] {
			if s.Quantity != q {
				continue // beside its level
			}
			if name != "" {
				name = withComma(QuantityName(q), s.Unit)
			}
			middle, span := s.drawn()
			line := fmt.Sprintf("%-*s  %-*s  %*s  %-*s", l.name, fit(name, l.name), l.who, fit(s.Vehicle, l.who), l.middle, middle, l.span, span)
			if i := slices.IndexFunc(rows[q], func(r Size) bool { return r.Vehicle == s.Vehicle && r.Quantity == q+"_change" }); i >= 0 {
				line = b.beside(line, rows[q][i].changed())
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			name = ""
		}
	}
	return len(order) - len(spoken)
}

// beside adds text to a line, or puts it at the right of a line of its own.
func (b *page) beside(line, text string) string {
	if joined := line + "  " + text; len([]rune(joined)) <= b.width {
		return joined
	}
	return strings.TrimRight(line, " ") + fmt.Sprintf("\n%*s", b.width, text)
}

// drawn is the middle and the range of nine in ten draws.
func (s Size) drawn() (middle, span string) {
	n := Numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	switch {
	case s.P50 == nil:
		return n[1], "all infeasible"
	case s.Constant:
		return n[1], "in every draw"
	case s.P05 == nil || s.P95 == nil:
		return n[1], "too few count"
	}
	return n[1], n[0] + " to " + n[2]
}

// changed is a change on one line: "-5.2 %, -6.3 to -4.0".
func (s Size) changed() string {
	n := Numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	switch {
	case s.P50 == nil:
		return "all infeasible"
	case s.Constant:
		return WithUnit(n[1], s.Unit) + " in every draw"
	case s.P05 == nil || s.P95 == nil:
		return WithUnit(n[1], s.Unit) + ", too few draws count for more"
	}
	return fmt.Sprintf("%s, %s to %s", WithUnit(n[1], s.Unit), n[0], n[2])
}

// speakOf reports whether a claim names one of these sizes.
func (a *Answer) speakOf(sizes []Size) bool {
	return slices.ContainsFunc(a.Claims, func(c Claim) bool {
		return slices.ContainsFunc(namesIn(c.Text), func(name string) bool {
			return slices.ContainsFunc(sizes, func(s Size) bool { return s.Name == name })
		})
	})
}

// namesIn are the words of a condition that may be names.
func namesIn(condition string) []string {
	return strings.FieldsFunc(condition, func(r rune) bool {
		return r != '.' && r != '_' && (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
}

// shortLayout is how wide the columns of the short answer's quantities are.
type shortLayout struct{ name, who, middle, span int }

// shortLayout finds the widths that these sizes take; names give way where all of it is
// too wide.
func (b *page) shortLayout(rows map[string][]Size, quantities []string) shortLayout {
	l := shortLayout{span: len("nine in ten")}
	for _, q := range quantities {
		for _, s := range rows[q] {
			if s.Quantity != q {
				continue
			}
			middle, span := s.drawn()
			l.name, l.who = max(l.name, len([]rune(withComma(QuantityName(q), s.Unit)))), max(l.who, len([]rune(s.Vehicle)))
			l.middle, l.span = max(l.middle, len([]rune(middle))), max(l.span, len([]rune(span)))
		}
	}
	l.middle = max(l.middle, len("middle, nine in ten")-2-l.span)
	rest := b.width - l.middle - l.span - 6 - len("  change")
	l.who = min(l.who, rest/3)
	l.name = min(l.name, rest-l.who)
	return l
}

// withComma is a name and its unit: "kerb mass, kg".
func withComma(name, unit string) string {
	if unit == "" || unit == "1" {
		return name
	}
	return name + ", " + unit
}
