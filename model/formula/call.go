package formula

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/model/unit"
)

// call reads a function's arguments; the next token is the opening bracket.
func (p *parser) call(name *token) (*node, *Error) {
	i := slices.IndexFunc(functions, func(f function) bool { return f.name == name.text })
	if i < 0 {
		return nil, noFunction(name)
	}
	f := functions[i]
	open := p.next()
	p.at++
	n := &node{op: f.op, offset: name.offset}
	if _, ok := p.take(")"); ok {
		return n, countArguments(f, n)
	}
	for {
		arg, err := p.deeper(p.or)
		if err != nil {
			return nil, err
		}
		n.args = append(n.args, arg)
		if _, ok := p.take(","); !ok {
			break
		}
	}
	if err := p.closing(open); err != nil {
		return nil, err
	}
	return n, countArguments(f, n)
}

func countArguments(f function, n *node) *Error {
	found := len(n.args)
	if found >= f.least && found <= f.most {
		return nil
	}
	want := fmt.Sprint(f.least)
	if f.most > f.least {
		want += " or more"
	}
	return errorAt(n.offset, "%s has %d arguments, but takes %s", f.name, found, want)
}

func noFunction(name *token) *Error {
	if near := unit.Nearest(name.text, Functions()); near != "" {
		return errorAt(name.offset, "%s is no function; did you mean %s?", quote(name.text), near)
	}
	return errorAt(name.offset, "%s is no function; the functions are %s; for a product write %s * (...)",
		quote(name.text), strings.Join(Functions(), " "), clip(name.text))
}

// noValue refuses the next token where a value is expected.
func (p *parser) noValue() *Error {
	t := p.next()
	if t.kind == tokenEnd {
		return errorAt(t.offset, "the expression ends where a value is expected")
	}
	return errorAt(t.offset, "found %s where a value is expected", quote(t.text))
}

// unexpected refuses the next token where an expression is complete.
func (p *parser) unexpected() *Error {
	t := p.next()
	switch {
	case t.text == ")":
		return errorAt(t.offset, "a bracket is closed that was never opened")
	case t.text == ",":
		return errorAt(t.offset, "a comma stands only between a function's arguments; the decimal sign is a point")
	case t.text == "not":
		return errorAt(t.offset, "found not behind a value; write and not, or or not")
	}
	if before := p.tokens[p.at-1]; before.kind == tokenNumber && before.hasUnit {
		return errorAt(t.offset, "an operator is missing before %s; a unit with a blank stands in brackets: 15 (kWh/100 km)", quote(t.text))
	}
	return errorAt(t.offset, "an operator is missing before %s", quote(t.text))
}
