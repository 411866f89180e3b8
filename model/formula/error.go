package formula

import (
	"errors"
	"fmt"
	"strings"

	"proofmass/model/unit"
)

// An Error says what is wrong with an expression and where.
type Error struct {
	Offset         int // bytes from the start of the text
	Found, Allowed string
	cause          error
}

func (e *Error) Error() string {
	if e.Allowed == "" {
		return e.Found
	}
	return e.Found + "; " + e.Allowed
}

// Told is what was found and what is allowed.
func (e *Error) Told() (found, allowed string) { return e.Found, e.Allowed }

// Unwrap returns the caller's own error where Check met one, else nil.
func (e *Error) Unwrap() error { return e.cause }

// errorAt makes an error: what is allowed follows the first "; " of the format.
func errorAt(offset int, format string, args ...any) *Error {
	const parted = "\x00"
	found, allowed, _ := strings.Cut(fmt.Sprintf(strings.Replace(format, "; ", parted, 1), args...), parted)
	return &Error{Offset: offset, Found: found, Allowed: allowed}
}

// noUnit is errorAt of an error of a unit, with more behind it.
func noUnit(offset int, err error, more string) *Error {
	e := &Error{Offset: offset, Found: err.Error() + more}
	if bad := new(unit.Error); errors.As(err, &bad) && bad.Allowed != "" {
		e.Found, e.Allowed = bad.Found, bad.Allowed+more
	}
	return e
}

// longest is how much of what was found is shown.
const longest = 32

func quote(found string) string { return unit.Quote(found, longest) }
