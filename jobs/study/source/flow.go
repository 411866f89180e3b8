package source

import (
	"strings"

	"go.yaml.in/yaml/v4"
)

// Flow writes the field in one line, as far as a message has room for it.
func (f Field) Flow() string { return flow(f.node, 0) }

func flow(n *yaml.Node, depth int) string {
	var parts []string
	for i, child := range n.Content {
		switch {
		case depth > 4 || i > 20:
			return "{...}"
		case n.Kind == yaml.MappingNode && i%2 == 0:
			parts = append(parts, child.Value+": "+flow(n.Content[i+1], depth+1))
		case n.Kind == yaml.SequenceNode:
			parts = append(parts, flow(child, depth+1))
		}
	}
	switch n.Kind {
	case yaml.MappingNode:
		return "{" + strings.Join(parts, ", ") + "}"
	case yaml.SequenceNode:
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return Printable(n.Value, 40)
}
