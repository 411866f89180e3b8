package uncertain

import (
	"regexp"
	"strings"

	"proofmass/model/unit"
)

// Ways in which people write what is known of a number and which the grammar has no
// place for. Each is told how it is written here, with the reader's own numbers.
const (
	slipNumber = `([+-]?(?:[0-9][0-9_]*(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)`
	slipUnit   = ` ?((?:%|\p{L}|°|µ)[^,;±(]*?)? *`
)

var slips = []struct {
	pattern *regexp.Regexp
	advise  func(m []string) string
}{
	{regexp.MustCompile(`^` + slipNumber + slipUnit + `(?:±|\+ ?/? ?-) ?` + slipNumber + slipUnit + `$`), plusMinus},
	{regexp.MustCompile(`^(?i:between )?` + slipNumber + slipUnit + `(?:-|–|—|\.\.+|…|to |and ) ?` + slipNumber + slipUnit + `$`), rangeOf},
	{regexp.MustCompile(`^` + slipNumber + ` \(` + slipNumber + `\)` + slipUnit + `$`), uncertaintyBehind},
	{regexp.MustCompile(`^` + slipNumber + slipUnit + `\(` + slipNumber + `\)$`), func(m []string) string { return uncertaintyBehind([]string{"", m[1], m[3], m[2]}) }},
	{regexp.MustCompile(`^` + slipNumber + ` ?(?:[x×*·⋅] ?10\^?|[*x] ?10\*\*) ?([+-]?[0-9]+)` + slipUnit + `$`),
		func(m []string) string { return "a power of ten is written " + m[1] + "e" + m[2] + unitText(m[3]) }},
	{regexp.MustCompile(`^(?:~|≈|<=?|>=?|≤|≥|(?i:ca|c|about|around|approx|approximately|circa|roughly|some|up to|at most|at least|max|min|over|under)\.? ?) ?` + slipNumber + slipUnit + `$`), roughly},
	{regexp.MustCompile(`^` + slipNumber + slipUnit + `[,;] *(\p{L}.*)$`),
		func(m []string) string {
			return "a remark stands beside: {value: " + m[1] + unitText(m[2]) + `, note: "` + m[3] + `"}`
		}},
	{regexp.MustCompile(`^(%|\p{L}[^ ]*) ?` + slipNumber + `$`), unitFirst},
	{regexp.MustCompile(`^(?i:unknown|not known|n/?a|tbd|tbc|tba|\?+|-+|no data|open)$`),
		func([]string) string { return "what is not known is left out, or bounded: {between: [low, high]}" }},
}

// slip says how a text that is no number would have been written, "" where it is none
// of these ways.
func slip(text string) string {
	if len(text) > 80 {
		return ""
	}
	for _, s := range slips {
		if m := s.pattern.FindStringSubmatch(text); m != nil {
			if advice := s.advise(m); advice != "" {
				return advice
			}
		}
	}
	return ""
}

// unitText is the unit of an example: a blank and the unit, nothing where it is none.
func unitText(text string) string {
	text = strings.TrimSpace(text)
	if _, err := unit.Parse(text); err != nil {
		return ""
	}
	return " " + text
}

func plusMinus(m []string) string {
	of, sd := unitText(m[2]), m[3]
	if of == "" {
		of = unitText(m[4])
	}
	behind := sd
	if strings.Contains(m[1], ".") && !strings.Contains(sd, ".") {
		behind += ".0" // digits alone would count as the last ones of the number
	}
	return "of a standard uncertainty write " + m[1] + "(" + behind + ")" + of + "; of 9 in 10 values {likely: " + m[1] + of + ", within: " + sd + of + "}"
}

// rangeOf wants a unit behind the second number, lest a date or a difference be taken
// for a range.
func rangeOf(m []string) string {
	of := unitText(m[4])
	if of == "" {
		return ""
	}
	return "a range is written {between: [" + m[1] + of + ", " + m[3] + of + "]}"
}

func uncertaintyBehind(m []string) string {
	return "the standard uncertainty stands right behind the number: " + m[1] + "(" + m[2] + ")" + unitText(m[3])
}

func roughly(m []string) string {
	of := unitText(m[2])
	return "say how well it is known: {likely: " + m[1] + of + ", within: 10 %}, or {between: [low, high]}"
}

func unitFirst(m []string) string {
	of := unitText(m[1])
	if of == "" {
		return ""
	}
	return "the unit stands behind the number: " + m[2] + of
}
