package study

import "strings"

// inWords says in plain English which values of what was announced bear the claim out,
// and what was announced. low and high are the limits with their units, announced and
// step what the study states; step is "" without rounding.
func (r *resolver) inWords(c *claimDecl, low, high, announced, step string) string {
	said := " (announced: " + announced
	if step != "" {
		said += ", rounded to " + step
	}
	said += ")"
	subject, against := r.subject(c.Of)
	switch {
	case c.Way == 0 && against != "":
		return subject + " differs from " + against + " by " + low + " to " + high + said
	case c.Way == 0:
		return subject + " lies from " + low + " to " + high + said
	case against == "" && c.Way > 0:
		return subject + " is " + low + " or more" + said
	case against == "":
		return subject + " is " + high + " or less" + said
	}
	limit, bound := low, "at least"
	if c.Way < 0 {
		limit = high
	}
	size, below := strings.CutPrefix(limit, "-")
	if below == (c.Way > 0) {
		bound = "at most"
	}
	than := " higher than "
	if below {
		than = " lower than "
	}
	return subject + " is " + bound + " " + size + than + against + said
}

// subject is what an announced output is about: of a change or a difference the
// quantity itself, and that of the baseline, which is "" for any other.
func (r *resolver) subject(of string) (subject, against string) {
	for _, ending := range []string{"_change", "_difference"} {
		name, found := strings.CutSuffix(of, ending)
		if _, quantity, full := strings.Cut(name, "."); found && full && r.output(of) == nil {
			return name, r.s.Baseline + "." + quantity
		}
	}
	return of, ""
}
