package source

import (
	"errors"
	"fmt"
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
	e.Found = "YAML: " + Printable(message, 200) + context
	e.Allowed = endsReading + s.hint(message, e.Line, e.Column)
	s.errs.Add(e)
}

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
