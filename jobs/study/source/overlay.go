package source

import (
	"slices"

	"go.yaml.in/yaml/v4"
)

// Overlaid is a mapping of a file with another's entries of the named sections put over it: of
// as many levels of mappings as a section says each entry goes over the one of its name, below
// that the whole replaces the whole. An entry of deeper is a mapping of one level more. Neither
// field is changed; places are those of the lines that were taken.
func (f Field) Overlaid(over Field, levels map[string]int, deeper ...string) Field {
	out := *f.node
	out.Content = slices.Clone(out.Content)
	if over.IsMapping() {
		for i := 0; i+1 < len(over.node.Content); i += 2 {
			if depth, section := levels[over.node.Content[i].Value]; section {
				put(&out, over.node.Content[i], over.node.Content[i+1], depth, deeper)
			}
		}
	}
	return Field{f.doc, &out, f.path}
}

// put puts an entry over that of its key, which levels below may stay in part.
func put(into, key, value *yaml.Node, depth int, deeper []string) {
	for i := 0; i+1 < len(into.Content); i += 2 {
		if into.Content[i].Value != key.Value {
			continue
		}
		old := into.Content[i+1]
		if depth > 0 && old.Kind == yaml.MappingNode && value.Kind == yaml.MappingNode {
			merged := *old
			merged.Content = slices.Clone(old.Content)
			for k := 0; k+1 < len(value.Content); k += 2 {
				below := depth - 1
				if slices.Contains(deeper, value.Content[k].Value) {
					below = 1
				}
				put(&merged, value.Content[k], value.Content[k+1], below, deeper)
			}
			into.Content[i+1] = &merged
			return
		}
		into.Content[i], into.Content[i+1] = key, value
		return
	}
	into.Content = append(into.Content, key, value)
}
