package study

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"proofmass/jobs/regular"
)

// Bounds on a stranger's file. A file over them is refused in milliseconds.
const (
	maxBytes = 4 << 20
	maxDepth = 64
	maxNodes = 1_000_000
)

// readBounded reads a regular file of at most maxBytes, as readUpTo does: anything else, such as a
// pipe that never ends, is refused unopened.
func readBounded(path string) ([]byte, error) {
	return readUpTo(path, maxBytes, "a study may have at most 4194304 (4 MiB)")
}

func readUpTo(path string, most int64, allowed string) ([]byte, error) {
	f, size, err := regular.Open(path)
	if what := new(regular.Error); errors.As(err, &what) {
		return nil, errors.New(what.What)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if size > most {
		return nil, fmt.Errorf("has %d bytes; %s", size, allowed)
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil || int64(len(data)) > most {
		return nil, errors.New("cannot be read whole")
	}
	return data, nil
}

// load parses the bytes of a file into nodes that are safe to walk: of bounded
// depth and number, without aliases, tags and keys that are no text. It reports
// whether there is anything to go on with.
func (s *source) load() (field, bool) {
	if !s.checkText() {
		return field{}, false
	}
	decoder := yaml.NewDecoder(bytes.NewReader(s.data))
	var document yaml.Node
	switch err := decoder.Decode(&document); {
	case errors.Is(err, io.EOF):
		s.add(Error{File: s.path, Found: "the file is empty", Allowed: `a study begins with "format: 1"`})
		return field{}, false
	case err != nil:
		s.syntax(err)
		return field{}, false
	}
	root := field{s, document.Content[0], ""}
	w := walker{s: s}
	if !w.visit(root.node, "", 0) {
		return field{}, false
	}
	var second yaml.Node
	if err := decoder.Decode(&second); !errors.Is(err, io.EOF) {
		at := Error{s.path, second.Line, second.Column, "", "a second document", "a file holds one"}
		if load := new(yaml.LoadError); errors.As(err, &load) {
			at.Line, at.Column = load.Mark.Line, load.Mark.Column
		}
		s.add(at)
	}
	return root, true
}

// checkText refuses what is no text before YAML sees it.
func (s *source) checkText() bool {
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
			s.add(Error{s.path, line, column, "", bad, "a study is text in UTF-8"})
			return false
		}
		if i += size; r == '\n' {
			line, column = line+1, 0
		}
	}
	return true
}

const endsReading = "a syntax error ends the reading, so there may be more behind it"

// syntax reports the one error that a YAML parser gives before it stops.
func (s *source) syntax(err error) {
	message, context, begun := err.Error(), "", 0
	e := Error{File: s.path, Line: 1, Column: 1}
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
		s.add(at)
		return
	}
	e.Found = "YAML: " + printable(message, 200) + context
	e.Allowed = endsReading + s.hint(message, e.Line, e.Column)
	s.add(e)
}

// hint says what most likely caused a syntax error at the place.
func (s *source) hint(message string, line, column int) string {
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

// walker refuses what makes a tree of nodes unsafe or unclear to read.
type walker struct {
	s       *source
	nodes   int
	aliases int // only the first is reported
}

// visit reports whether the walk may go on; what it can it reports and passes.
func (w *walker) visit(n *yaml.Node, path string, depth int) bool {
	f := field{w.s, n, path}
	if w.nodes++; w.nodes > maxNodes {
		f.err("more than 1,000,000 values", "a study may have at most that many")
		return false
	}
	if depth > maxDepth {
		f.err("nested deeper than 64 levels", "a study needs fewer than ten")
		return false
	}
	if n.Style&yaml.TaggedStyle != 0 {
		f.err("the tag "+quote(n.Tag), "tags are not allowed: write the value alone")
	}
	if n.Kind == yaml.AliasNode {
		if w.aliases++; w.aliases == 1 {
			f.err("the alias "+quote("*"+n.Value), "aliases are not allowed: vehicles share by based_on, studies by use")
		}
		n.Kind, n.Tag, n.Value, n.Alias = yaml.ScalarNode, brokenTag, "", nil
		return true
	}
	if n.Kind == yaml.MappingNode {
		w.keys(n, path)
	}
	for i, child := range n.Content {
		below := path
		if n.Kind == yaml.MappingNode && i%2 == 1 {
			below = join(path, n.Content[i-1].Value)
		}
		if !w.visit(child, below, depth+1) {
			return false
		}
	}
	return true
}

// keys reports keys that are no text or stand twice, and drops them.
func (w *walker) keys(n *yaml.Node, path string) {
	first := make(map[string]int, len(n.Content)/2)
	kept := n.Content[:0]
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		f := field{w.s, key, join(path, key.Value)}
		line, twice := first[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode:
			field{w.s, key, path}.err("a key that is "+f.what(), "a key is a word")
			continue
		case key.Value == "<<":
			field{w.s, key, path}.err("the merge key <<", "vehicles share by based_on, studies by use")
			continue
		case twice:
			f.err(fmt.Sprintf("the same key as on line %d", line), "a key may stand once")
			continue
		}
		first[key.Value] = key.Line
		kept = append(kept, key, n.Content[i+1])
	}
	n.Content = kept
}
