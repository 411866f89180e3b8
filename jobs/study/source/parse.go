package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// Parse turns the bytes of a file into nodes that are safe to walk: of bounded depth
// and number, without aliases, tags and keys that are no text. Mistakes go to errs. It
// reports whether there is anything to go on with.
func Parse(path string, data []byte, errs *Collector) (Field, bool) {
	s := &Document{path: path, data: data, errs: errs}
	if !s.checkText() || !s.checkSize() {
		return Field{}, false
	}
	decoder := yaml.NewDecoder(bytes.NewReader(s.data))
	var document yaml.Node
	switch err := decoder.Decode(&document); {
	case errors.Is(err, io.EOF):
		s.errs.Add(Error{Place: Place{s.path, 1, 1}, Found: "the file is empty", Allowed: `a study begins with "format: 1"`})
		return Field{}, false
	case err != nil:
		s.syntax(err)
		return Field{}, false
	}
	root := Field{s, document.Content[0], ""}
	w := walker{doc: s}
	if !w.visit(root.node, "", 0) {
		return Field{}, false
	}
	var second yaml.Node
	if err := decoder.Decode(&second); !errors.Is(err, io.EOF) {
		at := Error{Place{s.path, second.Line, second.Column}, "", "a second document", "a file holds one"}
		if load := new(yaml.LoadError); errors.As(err, &load) {
			at.Line, at.Column = load.Mark.Line, load.Mark.Column
		}
		s.errs.Add(at)
	}
	return root, true
}

// checkText refuses what is no text before YAML sees it.
func (s *Document) checkText() bool {
	line, column := 1, 1
	for i := 0; i < len(s.data); column++ {
		r, size := utf8.DecodeRune(s.data[i:])
		bad := ""
		switch {
		case r == utf8.RuneError && size == 1:
			bad = fmt.Sprintf("the byte %#02x, which is not UTF-8", s.data[i])
		case r < ' ' && r != '\n' && r != '\r' && r != '\t', r == 0x7f:
			bad = fmt.Sprintf("the control character %#02x", r)
		}
		if bad != "" {
			s.errs.Add(Error{Place{s.path, line, column}, "", bad, "a study is text in UTF-8"})
			return false
		}
		if i += size; r == '\n' {
			line, column = line+1, 0
		}
	}
	return true
}
