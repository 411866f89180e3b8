package formula

import (
	"fmt"
	"strconv"
	"unicode/utf8"
)

// An Error says what is wrong with an expression and where.
type Error struct {
	Offset int // bytes from the start of the text
	Msg    string
	cause  error
}

func (e *Error) Error() string { return e.Msg }

// Unwrap returns the caller's own error where Check met one, else nil.
func (e *Error) Unwrap() error { return e.cause }

func errorAt(offset int, format string, args ...any) *Error {
	return &Error{Offset: offset, Msg: fmt.Sprintf(format, args...)}
}

// quote prints what was found, cut to a length that a line holds.
func quote(found string) string {
	const most = 32
	if len(found) > most {
		cut := most
		for cut > 0 && !utf8.RuneStart(found[cut]) {
			cut--
		}
		found = found[:cut] + "..."
	}
	return strconv.Quote(found)
}
