package source

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// A Document is a file being read and the list that its errors go to.
type Document struct {
	path string // for messages and places
	data []byte
	errs *Collector

	lines [][]byte // of data, made when first asked for
	last  int      // number of the line that runes holds
	runes []rune
}

// line is the characters of a line, from 1; nil outside the file. The last one is
// kept, for a file may be one line of 4 MiB with a mistake in every word.
func (s *Document) line(number int) []rune {
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

// A Field is a node of a file with the way to it. What it reports goes to the file's
// Collector.
type Field struct {
	doc  *Document
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

// Place is where the field begins.
func (f Field) Place() Place {
	return Place{f.doc.path, f.node.Line, f.node.Column}
}

// Errors is where mistakes of the field's file go.
func (f Field) Errors() *Collector { return f.doc.errs }

// InFileOf reports whether both stand in one file.
func (f Field) InFileOf(other Field) bool { return f.doc == other.doc }

// Raw is the text of a scalar as it was written, "" of anything else.
func (f Field) Raw() string { return f.node.Value }

// Len is the number of entries of a mapping or a list.
func (f Field) Len() int {
	if f.IsMapping() {
		return len(f.node.Content) / 2
	}
	return len(f.node.Content)
}

// Err reports a mistake at the field.
func (f Field) Err(found, allowed string) {
	f.doc.errs.Add(Error{f.Place(), f.path, found, allowed})
}

// ErrAt reports a mistake at a byte offset of the field's text. Where the text
// does not stand in the file as it is (quoted, folded), the field's own place is given.
func (f Field) ErrAt(offset int, found, allowed string) {
	column := f.node.Column
	if f.isPlain() && !f.doc.errs.Full() && offset >= 0 && offset <= len(f.Raw()) {
		value, line := []rune(f.Raw()), f.doc.line(f.node.Line)
		if end := column - 1 + len(value); column >= 1 && end <= len(line) && slices.Equal(line[column-1:end], value) {
			column += utf8.RuneCountInString(f.Raw()[:offset])
		}
	}
	f.doc.errs.Add(Error{Place{f.doc.path, f.node.Line, column}, f.path, found, allowed})
}

// isBroken reports whether the field's error is known already.
func (f Field) isBroken() bool { return f.node.Tag == brokenTag }

// IsScalar, IsList, IsMapping, isPlain (not quoted) and IsNull say what the field is.
func (f Field) IsScalar() bool  { return f.node.Kind == yaml.ScalarNode && !f.IsNull() && !f.isBroken() }
func (f Field) IsList() bool    { return f.node.Kind == yaml.SequenceNode }
func (f Field) IsMapping() bool { return f.node.Kind == yaml.MappingNode }
func (f Field) isPlain() bool {
	return f.node.Kind == yaml.ScalarNode && f.node.Style&^yaml.FlowStyle == 0
}
func (f Field) IsNull() bool {
	return f.node.Kind == yaml.ScalarNode && f.isPlain() && (f.Raw() == "" || f.Raw() == "~" || f.Raw() == "null")
}

// What names the field's content for a message.
func (f Field) What() string {
	switch {
	case f.IsNull():
		return "nothing"
	case f.IsList():
		return "a list"
	case f.IsMapping():
		return "a mapping"
	}
	return Quote(f.Raw())
}

// Wrong reports that the field is not what is allowed, unless its error is known.
func (f Field) Wrong(allowed string) {
	if !f.isBroken() {
		f.Err(f.What(), allowed)
	}
}

// Text is the field's text; allowed says in the error what it should have been.
func (f Field) Text(allowed string) (string, bool) {
	if !f.IsScalar() {
		f.Wrong(allowed)
		return "", false
	}
	return strings.TrimSpace(f.Raw()), true
}

// List is the fields of a list.
func (f Field) List(allowed string) ([]Field, bool) {
	if !f.IsList() {
		f.Wrong(allowed)
		return nil, false
	}
	items := make([]Field, len(f.node.Content))
	for i, n := range f.node.Content {
		items[i] = Field{f.doc, n, f.path}
	}
	return items, true
}

// MostEntries bounds the entries of a section or a list.
const MostEntries = 1000

// AtMost bounds the number of entries of a mapping or a list.
func (f Field) AtMost(n int, what string) bool {
	found := f.Len()
	if found > n {
		f.Err(fmt.Sprintf("%d %s", found, what), fmt.Sprintf("at most %d are allowed", n))
	}
	return found <= n
}

// A Pair is a key and its value; both carry the path of the value.
type Pair struct {
	Name       string
	Key, Value Field
}

// Pairs is the content of a mapping. Where a comma cut a text in two inside { },
// the first half is reported and marked broken, the second dropped.
func (f Field) Pairs(allowed string) ([]Pair, bool) {
	if !f.IsMapping() {
		if meant, ok := withColon(f.Raw()); ok && f.isPlain() {
			allowed = needsColon(meant)
		}
		f.Wrong(allowed)
		return nil, false
	}
	all := make([]Pair, 0, len(f.node.Content)/2)
	for i := 0; i < len(f.node.Content); i += 2 {
		k, v := f.node.Content[i], f.node.Content[i+1]
		path := join(f.path, k.Value)
		p := Pair{k.Value, Field{f.doc, k, path}, Field{f.doc, v, path}}
		if f.node.Style&yaml.FlowStyle != 0 && p.Value.IsNull() && !p.hasColon() && len(all) > 0 {
			if meant, ok := withColon(k.Value); ok {
				Field{f.doc, k, f.path}.Err(Quote(k.Value)+" is no key with a value", needsColon(meant))
			} else {
				all[len(all)-1].Value.cut(k.Value)
			}
			continue
		}
		all = append(all, p)
	}
	return all, true
}

// hasColon reports whether the key is followed by a colon in the file.
func (p Pair) hasColon() bool {
	line := p.Key.doc.line(p.Key.node.Line)
	end := p.Key.node.Column - 1 + utf8.RuneCountInString(p.Name)
	if !p.Key.isPlain() || end < 0 || end > len(line) {
		return true
	}
	for end < len(line) && (line[end] == ' ' || line[end] == '\t') {
		end++
	}
	return end < len(line) && line[end] == ':'
}

// cut reports that the text ends at a comma that was not meant to end it.
func (f Field) cut(rest string) {
	if f.isBroken() {
		return
	}
	name := f.path[strings.LastIndexByte(f.path, '.')+1:]
	switch {
	case f.IsScalar() && startsNumber(f.Raw()) && startsNumber(rest):
		f.Err(Quote(f.Raw())+" is cut at a comma", "several numbers stand in brackets, "+
			Printable(name+": ["+f.Raw()+", "+rest+"]", 100)+"; the decimal sign is a point")
	case f.IsScalar():
		f.Err(Quote(f.Raw())+" is cut at a comma", "inside { } a text with a comma must be quoted: "+
			Printable(name+`: "`+f.Raw()+", "+rest+`"`, 100))
	default:
		f.Err(Quote(rest)+" after it has no value", "each key needs a value: key: value")
	}
	f.node.Tag = brokenTag
}

// startsNumber reports whether the text begins as a number does.
func startsNumber(text string) bool {
	text = strings.TrimLeft(text, "+-")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}
