package uncertain

import (
	"errors"
	"strconv"

	"proofmass/jobs/study/source"
	"proofmass/model/formula"
	"proofmass/model/unit"
)

// A Context is what the numbers of one study share: its files of values and its one
// currency, the first that is named. The zero Context has no files.
type Context struct {
	// Open reads a file of values, once however many numbers take a column of it.
	Open func(name string) ([]byte, error)

	currency string
	place    source.Place // of its first mention
	values   int          // taken from files so far
}

// Currency is the ISO 4217 code of the study's money, "" where it has none.
func (x *Context) Currency() string { return x.currency }

// sameCurrency holds a study to one currency, the first that it names.
func (x *Context) sameCurrency(f source.Field, code string) bool {
	switch {
	case code == "" || code == x.currency:
		return true
	case x.currency == "":
		x.currency, x.place = code, f.Place()
		return true
	}
	f.Err("the currency "+code, "a study has one, and this one has "+x.currency+" on line "+strconv.Itoa(x.place.Line)+" of "+source.Printable(x.place.File, 100))
	return false
}

// Unit reads a unit that stands alone.
func (x *Context) Unit(f source.Field) (unit.Unit, bool) {
	text, ok := f.Text("a unit is expected, as in kg")
	if !ok {
		return unit.Unit{}, false
	}
	u, _, ok := x.unit(f, text, 0)
	return u, ok
}

// Expression parses an expression; its names are checked when all are known.
func (x *Context) Expression(f source.Field, allowed string) (*formula.Expr, bool) {
	text, ok := f.Text(allowed)
	if !ok {
		return nil, false
	}
	e, err := formula.Parse(text)
	if err != nil {
		ExpressionError(f, err)
		return nil, false
	}
	return e, x.sameCurrency(f, e.Currency())
}

// ExpressionError reports what the formula package or a name of the caller's found
// wrong, at the place within the text.
func ExpressionError(f source.Field, err error) {
	if errors.Is(err, source.ErrReported) {
		return
	}
	offset := 0
	if e := new(formula.Error); errors.As(err, &e) {
		offset = e.Offset
	}
	m := source.MessageOf(err)
	f.ErrAt(offset, source.Printable(m.Found, 200), source.Printable(m.Allowed, 200))
}
