package source

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v4"
)

const endsReading = "a syntax error ends the reading, so there may be more behind it"

// syntax reports the one error that a YAML parser gives before it stops.
func (s *Document) syntax(err error) {
	message, context, begun := err.Error(), "", 0
	e := Error{Place: Place{s.path, 1, 1}}
	if load := new(yaml.LoadError); errors.As(err, &load) {
		message = load.Message
		if load.Mark.Line > 0 {
			e.Line, e.Column = load.Mark.Line, load.Mark.Column
		}
		if c := load.ContextMark; load.ContextMsg != "" && c.Line > 0 && (c.Line != e.Line || c.Column != e.Column) {
			begun = c.Line
			context = fmt.Sprintf(" %s from line %d, column %d", load.ContextMsg, c.Line, c.Column)
		}
	}
	if at, lost := s.atLostColon(message, begun, e); lost {
		s.errs.Add(at)
		return
	}
	if shifted, ok := s.atIndent(message, e); ok {
		s.errs.Add(shifted)
		return
	}
	e.Found = "YAML: " + Printable(message, 200) + context
	e.Allowed = endsReading + s.hint(message, e.Line, e.Column)
	s.errs.Add(e)
}

// atIndent tells a line that stands further right, or left, than those of its section.
func (s *Document) atIndent(message string, e Error) (Error, bool) {
	if !strings.HasPrefix(message, "mapping values") && !strings.HasPrefix(message, "did not find expected key") {
		return e, false
	}
	last := s.before(e.Line)
	if last == 0 {
		return e, false
	}
	margin := func(line int) int {
		text := string(s.line(line))
		return len(text) - len(strings.TrimLeft(text, " "))
	}
	own, above := margin(e.Line), margin(last)
	key := keyLine.MatchString(string(s.line(e.Line))) && keyLine.MatchString(string(s.line(last)))
	if own == above || !key || strings.HasPrefix(message, "mapping values") && own < above {
		return e, false
	}
	e.Column = own + 1
	e.Found = fmt.Sprintf("this line begins in column %d, and line %d before it in column %d", own+1, last, above+1)
	e.Allowed = "lines of one section begin in one column, those inside a key a little further in, behind a key that has nothing behind its colon; " + endsReading
	return e, true
}

// keyLine is a line that begins with a key and has something behind its colon or nothing.
var keyLine = regexp.MustCompile(`^ *[A-Za-z_][A-Za-z0-9_.]*:( [^"'\[{]*)?$`)

// hint says what most likely caused a syntax error at the place.
func (s *Document) hint(message string, line, column int) string {
	text := s.line(line)
	if column < 1 || column > len(text) {
		return ""
	}
	switch text[column-1] {
	case '\t':
		return "; indent with blanks, not with tabs"
	case '%', '@', '`':
		return fmt.Sprintf("; a value that begins with %c must be quoted", text[column-1])
	case ':':
		if strings.HasPrefix(message, "mapping values") {
			return "; a text with a colon must be quoted"
		}
	}
	for _, r := range text[:column-1] {
		if r == ']' || r == '}' {
			return "; nothing may follow ] or }: give each number its unit, or say unit: beside the list"
		}
	}
	return ""
}
