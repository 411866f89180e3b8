package source

import (
	"regexp"
	"strings"
)

// lostColon is a key and a value with no colon, or with no blank behind it, which YAML
// takes for one text: "pack_energy 78 kWh", "pack_energy:78 kWh".
var lostColon = regexp.MustCompile(`^([a-z][a-z0-9_]*)(:| +)([-+.0-9\[{][^:]*|[^ :\[{]+)$`)

// withColon is the line that was meant by a text that lost its colon.
func withColon(text string) (meant string, ok bool) {
	parts := lostColon.FindStringSubmatch(text)
	if parts == nil {
		return "", false
	}
	return parts[1] + ": " + parts[3], true
}

// needsColon says how a text that lost its colon is written.
func needsColon(meant string) string {
	return "a key has a colon and a blank behind it: " + Printable(meant, 80)
}

// colonMessages are beginnings of what a YAML parser says, some lines later, of a line
// that lost its colon.
var colonMessages = []string{"could not find expected ':'", "mapping values are not allowed", "did not find expected key"}

// atLostColon moves a syntax error to the line that lost its colon, if one did: that at
// which the parser's context began, or the one before.
func (s *Document) atLostColon(message string, context int, e Error) (Error, bool) {
	known := false
	for _, m := range colonMessages {
		known = known || strings.HasPrefix(message, m)
	}
	if !known {
		return e, false
	}
	for _, line := range []int{context, s.before(e.Line)} {
		text := string(s.line(line))
		content, _, _ := strings.Cut(strings.TrimSpace(text), " #")
		if meant, ok := withColon(strings.TrimSpace(content)); ok && line <= e.Line {
			e.Line, e.Column = line, 1+len(text)-len(strings.TrimLeft(text, " "))
			e.Found = "YAML: " + Quote(content) + " is no key with a value"
			e.Allowed = needsColon(meant) + "; " + endsReading
			return e, true
		}
	}
	return e, false
}

// before is the number of the line before that holds more than a comment, 0 if none.
func (s *Document) before(line int) int {
	for line--; line > 0; line-- {
		if text := strings.TrimSpace(string(s.line(line))); text != "" && text[0] != '#' {
			return line
		}
	}
	return 0
}
