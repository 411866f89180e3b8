package source

import "go.yaml.in/yaml/v4"

// A Sheet makes fields of what a file holds that is no YAML, a table: each knows its line and
// column, so that what is wrong with it is said as of any other field.
type Sheet struct {
	doc  *Document
	path string // of its fields, dotted
}

// SheetAt is a sheet of a file whose content stands for a field of another one.
func (f Field) SheetAt(path string, data []byte) *Sheet {
	return &Sheet{&Document{path: path, data: data, errs: f.doc.errs}, f.path}
}

// Below is a sheet for what belongs to a key of it.
func (s *Sheet) Below(key string) *Sheet { return &Sheet{s.doc, join(s.path, key)} }

// An Entry is a key of a mapping and its value.
type Entry struct {
	Key   string
	Value Field
}

// Scalar is a text at a place.
func (s *Sheet) Scalar(line, column int, text string) Field {
	return Field{s.doc, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text, Line: line, Column: column}, s.path}
}

// Mapping is keys with values, at the place of a line.
func (s *Sheet) Mapping(line int, entries ...Entry) Field {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Line: line, Column: 1}
	for _, e := range entries {
		key := *e.Value.node
		key = yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: e.Key, Line: key.Line, Column: key.Column}
		n.Content = append(n.Content, &key, e.Value.node)
	}
	return Field{s.doc, n, s.path}
}

// Err reports a mistake at a place of the file.
func (s *Sheet) Err(line, column int, found, allowed string) {
	s.doc.errs.Add(Error{Place{s.doc.path, line, column}, s.path, found, allowed})
}
