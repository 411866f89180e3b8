package source

import (
	"fmt"

	"go.yaml.in/yaml/v4"
)

// maxDepth bounds the levels of a study, which needs fewer than ten.
const maxDepth = 64

// walker refuses what makes a tree of nodes unsafe or unclear to read.
type walker struct {
	doc     *Document
	aliases int // only the first is reported
}

// visit reports whether the walk may go on; what it can it reports and passes.
func (w *walker) visit(n *yaml.Node, path string, depth int) bool {
	f := Field{w.doc, n, path}
	if depth > maxDepth {
		f.Err("nested deeper than 64 levels", "a study needs fewer than ten")
		return false
	}
	if n.Style&yaml.TaggedStyle != 0 {
		f.Err("the tag "+Quote(n.Tag), "tags are not allowed: write the value alone")
	}
	if n.Kind == yaml.AliasNode {
		if w.aliases++; w.aliases == 1 {
			f.Err("the alias "+Quote("*"+n.Value), "aliases are not allowed: vehicles share by based_on, studies by use")
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
		f := Field{w.doc, key, join(path, key.Value)}
		line, twice := first[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode:
			Field{w.doc, key, path}.Err("a key that is "+f.What(), "a key is a word")
			continue
		case key.Value == "<<":
			Field{w.doc, key, path}.Err("the merge key <<", "vehicles share by based_on, studies by use")
			continue
		case twice:
			f.Err(fmt.Sprintf("the same key as on line %d", line), "a key may stand once")
			continue
		}
		first[key.Value] = key.Line
		kept = append(kept, key, n.Content[i+1])
	}
	n.Content = kept
}
