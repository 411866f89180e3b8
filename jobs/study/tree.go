package study

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// source is a file being read and the list that its errors go to.
type source struct {
	path  string // for messages and places
	data  []byte
	errs  *collector
	money *money // shared by the files of a study
	r     *reader

	lines [][]byte // of data, made when first asked for
	last  int      // number of the line that runes holds
	runes []rune
}

func (s *source) add(e Error) { s.errs.add(e) }

// line is the characters of a line, from 1; nil outside the file. The last one is
// kept, for a file may be one line of 4 MiB with a mistake in every word.
func (s *source) line(number int) []rune {
	if s.lines == nil {
		s.lines = bytes.Split(bytes.TrimPrefix(s.data, []byte("\ufeff")), []byte("\n"))
	}
	if number < 1 || number > len(s.lines) {
		return nil
	}
	if s.last != number {
		s.last, s.runes = number, []rune(string(s.lines[number-1]))
	}
	return s.runes
}

// brokenTag marks a node whose error is already reported.
const brokenTag = "!broken"

// field is a node with the way to it.
type field struct {
	src  *source
	node *yaml.Node
	path string
}

// join appends a key to a dotted path, both cut to what a message has room for.
func join(path, key string) string {
	const most = 64
	if len(key) > most {
		key = strings.ToValidUTF8(key[:most], "")
	}
	switch {
	case path == "":
		return key
	case len(path) > 3*most:
		return path
	}
	return path + "." + key
}

func (f field) place() Place {
	return Place{f.src.path, f.node.Line, f.node.Column}
}

// err reports a mistake at the field.
func (f field) err(found, allowed string) {
	f.src.add(Error{f.src.path, f.node.Line, f.node.Column, f.path, found, allowed})
}

// errAt reports a mistake at a byte offset of the field's text. Where the text
// does not stand in the file as it is (quoted, folded), the field's own place is given.
func (f field) errAt(offset int, found, allowed string) {
	column := f.node.Column
	if f.isPlain() && !f.src.errs.full() && offset >= 0 && offset <= len(f.node.Value) {
		value, line := []rune(f.node.Value), f.src.line(f.node.Line)
		if end := column - 1 + len(value); column >= 1 && end <= len(line) && slices.Equal(line[column-1:end], value) {
			column += utf8.RuneCountInString(f.node.Value[:offset])
		}
	}
	f.src.add(Error{f.src.path, f.node.Line, column, f.path, found, allowed})
}

func (f field) isBroken() bool  { return f.node.Tag == brokenTag }
func (f field) isScalar() bool  { return f.node.Kind == yaml.ScalarNode && !f.isNull() && !f.isBroken() }
func (f field) isList() bool    { return f.node.Kind == yaml.SequenceNode }
func (f field) isMapping() bool { return f.node.Kind == yaml.MappingNode }
func (f field) isPlain() bool {
	return f.node.Kind == yaml.ScalarNode && f.node.Style&^yaml.FlowStyle == 0
}
func (f field) isNull() bool {
	return f.node.Kind == yaml.ScalarNode && f.isPlain() && (f.node.Value == "" || f.node.Value == "~" || f.node.Value == "null")
}

// what names the field's content for a message.
func (f field) what() string {
	switch {
	case f.isNull():
		return "nothing"
	case f.isList():
		return "a list"
	case f.isMapping():
		return "a mapping"
	}
	return quote(f.node.Value)
}

// wrong reports that the field is not what is allowed, unless its error is known.
func (f field) wrong(allowed string) {
	if !f.isBroken() {
		f.err(f.what(), allowed)
	}
}

// text is the field's text; allowed says in the error what it should have been.
func (f field) text(allowed string) (string, bool) {
	if !f.isScalar() {
		f.wrong(allowed)
		return "", false
	}
	return strings.TrimSpace(f.node.Value), true
}

// list is the fields of a list.
func (f field) list(allowed string) ([]field, bool) {
	if !f.isList() {
		f.wrong(allowed)
		return nil, false
	}
	items := make([]field, len(f.node.Content))
	for i, n := range f.node.Content {
		items[i] = field{f.src, n, f.path}
	}
	return items, true
}

// atMost bounds the number of entries of a mapping or a list.
func (f field) atMost(n int, what string) bool {
	found := len(f.node.Content)
	if f.isMapping() {
		found /= 2
	}
	if found > n {
		f.err(fmt.Sprintf("%d %s", found, what), fmt.Sprintf("at most %d are allowed", n))
	}
	return found <= n
}

// pair is a key and its value; both carry the path of the value.
type pair struct {
	name       string
	key, value field
}

// pairs is the content of a mapping. Where a comma cut a text in two inside { },
// the first half is reported and marked broken, the second dropped.
func (f field) pairs(allowed string) ([]pair, bool) {
	if !f.isMapping() {
		if meant, ok := withColon(f.node.Value); ok && f.isPlain() {
			allowed = needsColon(meant)
		}
		f.wrong(allowed)
		return nil, false
	}
	all := make([]pair, 0, len(f.node.Content)/2)
	for i := 0; i < len(f.node.Content); i += 2 {
		k, v := f.node.Content[i], f.node.Content[i+1]
		path := join(f.path, k.Value)
		p := pair{k.Value, field{f.src, k, path}, field{f.src, v, path}}
		if f.node.Style&yaml.FlowStyle != 0 && p.value.isNull() && !p.hasColon() && len(all) > 0 {
			if meant, ok := withColon(k.Value); ok {
				field{f.src, k, f.path}.err(quote(k.Value)+" is no key with a value", needsColon(meant))
			} else {
				all[len(all)-1].value.cut(k.Value)
			}
			continue
		}
		all = append(all, p)
	}
	return all, true
}

// hasColon reports whether the key is followed by a colon in the file.
func (p pair) hasColon() bool {
	line := p.key.src.line(p.key.node.Line)
	end := p.key.node.Column - 1 + utf8.RuneCountInString(p.name)
	if !p.key.isPlain() || end < 0 || end > len(line) {
		return true
	}
	for end < len(line) && (line[end] == ' ' || line[end] == '\t') {
		end++
	}
	return end < len(line) && line[end] == ':'
}

// cut reports that the text ends at a comma that was not meant to end it.
func (f field) cut(rest string) {
	if f.isBroken() {
		return
	}
	name := f.path[strings.LastIndexByte(f.path, '.')+1:]
	switch {
	case f.isScalar() && startsNumber(f.node.Value) && startsNumber(rest):
		f.err(quote(f.node.Value)+" is cut at a comma", "several numbers stand in brackets, "+
			printable(name+": ["+f.node.Value+", "+rest+"]", 100)+"; the decimal sign is a point")
	case f.isScalar():
		f.err(quote(f.node.Value)+" is cut at a comma", "inside { } a text with a comma must be quoted: "+
			printable(name+`: "`+f.node.Value+", "+rest+`"`, 100))
	default:
		f.err(quote(rest)+" after it has no value", "each key needs a value: key: value")
	}
	f.node.Tag = brokenTag
}

// startsNumber reports whether the text begins as a number does.
func startsNumber(text string) bool {
	text = strings.TrimLeft(text, "+-")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}
