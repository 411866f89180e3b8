package compare

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"proofmass/jobs/study"
	"proofmass/jobs/study/uncertain"
)

// A side is one of the two studies as text: its own file, the files of numbers it uses,
// and the other files it reads.
type side struct {
	root     *yaml.Node
	used     map[string]*yaml.Node // by the name in given/
	files    map[string][]byte     // of values, by the name in given/
	baseline string
	vehicles bool // it states any
}

// sideOf takes a study that was read apart again.
func sideOf(s *study.Study) (*side, error) {
	d := &side{used: map[string]*yaml.Node{}, files: map[string][]byte{}, baseline: s.Baseline}
	var err error
	if d.root, err = parse(s.Files[0].Data); err != nil {
		return nil, err
	}
	d.vehicles = child(d.root, "vehicles") != nil
	uses := 0
	if list := child(d.root, "use"); list != nil {
		uses = len(list.Content)
	}
	for i, f := range s.Files[1:] { // used files are read before files of values
		if i >= uses {
			d.files[f.Name] = f.Data
			continue
		}
		if d.used[f.Name], err = parse(f.Data); err != nil {
			return nil, err
		}
	}
	return d, nil
}

func parse(data []byte) (*yaml.Node, error) {
	var document yaml.Node
	if err := yaml.Unmarshal(data, &document); err != nil {
		return nil, err
	}
	return document.Content[0], nil
}

// child is the value of a key, nil without it.
func child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// told are the top-level keys that cause nothing, or are set for all combinations alike.
var told = map[string]bool{"study": true, "about": true, "sample": true, "indices": true, "groups": true, "keep": true, "intervals": true,
	"coverage": true, "baseline": true, "show_in": true, "history": true, "choices": true, "best": true, "front": true, "could_measure": true}

// A line is a part of the two studies that is taken from the one or the other: an input, an
// item, a claim, or a whole section that is no list of names.
type line struct {
	name     string
	old, new *yaml.Node // nil: the study has none
}

// A merger puts a study together from the lines of two.
type merger struct {
	old, new *side
	lines    []line
	at       map[string]int // by place
	extra    bool           // what only one of them asks for is taken too, since what both ask for reads it
	free     map[string]bool
}

func newMerger(old, new *side) *merger {
	m := &merger{old: old, new: new, free: map[string]bool{}}
	for key := range uncertain.FreeKeys(&study.FreeText{}) {
		m.free[key] = true
	}
	m.free["price"] = true // of a measurement that was not made
	m.find()
	return m
}

// find lists the lines that differ.
func (m *merger) find() {
	m.lines, m.at = nil, map[string]int{}
	m.build(func(int) bool { return true })
}

// build makes the files of a combination, by name, the study's own under "". A line of
// which takesNew says no is the old study's.
func (m *merger) build(takesNew func(line int) bool) map[string]*yaml.Node {
	b := builder{m, takesNew}
	files := map[string]*yaml.Node{"": b.merge("", m.old.root, m.new.root, nil)}
	for _, name := range keysOf(m.old.used, m.new.used) {
		switch old, new := m.old.used[name], m.new.used[name]; {
		case old == nil:
			files[name] = new // who reads it is a line
		case new == nil:
			files[name] = old
		default:
			files[name] = b.merge(name, old, new, nil)
		}
	}
	for _, name := range keysOf(m.old.files, m.new.files) {
		old, has := m.old.files[name]
		new, hasNew := m.new.files[name]
		if has && hasNew && bytes.Equal(old, new) || !has || !hasNew {
			continue
		}
		b.pick("file "+name, "file "+name, scalar(string(old)), scalar(string(new)))
	}
	if m.old.vehicles && m.new.vehicles && m.old.baseline != m.new.baseline {
		b.pick("baseline", "baseline", scalar(m.old.baseline), scalar(m.new.baseline))
	}
	return files
}

type builder struct {
	*merger
	takesNew func(line int) bool
}

func keysOf[T any](maps ...map[string]T) []string {
	var keys []string
	for _, m := range maps {
		for key := range m {
			if !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	slices.Sort(keys)
	return keys
}

func scalar(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
}

// divided reports whether a mapping at a place is a list of names whose lines are taken one
// by one.
func divided(path []string) bool {
	switch len(path) {
	case 0:
		return true
	case 1:
		return slices.Contains([]string{"inputs", "own", "vehicles", "outputs", "claims"}, path[0])
	case 2:
		return path[0] == "vehicles"
	case 3:
		return path[0] == "vehicles" && (path[2] == "displaced" || path[2] == "added" || path[2] == "bill")
	}
	return false
}

// merge merges two mappings line by line: nil where nothing is left.
func (b builder) merge(file string, old, new *yaml.Node, path []string) *yaml.Node {
	out := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for _, key := range namesOf(new, old) {
		at := append(slices.Clone(path), key)
		x, y := child(old, key), child(new, key)
		if len(path) == 0 && told[key] {
			continue
		}
		var v *yaml.Node
		vehicle := len(at) == 2 && at[0] == "vehicles"
		whole := vehicle && (x == nil || y == nil) || !mappingOrNone(x) || !mappingOrNone(y) || len(at) == 3 && (child(x, "file") != nil || child(y, "file") != nil)
		switch {
		case len(path) == 2 && b.free[key]: // what is said of a vehicle
			continue
		case !b.extra && len(path) == 1 && (path[0] == "outputs" || path[0] == "claims") && (x == nil || y == nil):
			continue
		case divided(at) && !whole:
			v = b.merge(file, x, y, at)
		default:
			v = b.pick(file+"\x00"+strings.Join(at, "\x00"), lineName(at), x, y)
		}
		if v != nil {
			out.Content = append(out.Content, scalar(key), v)
		}
	}
	if len(out.Content) == 0 {
		return nil
	}
	return out
}

func mappingOrNone(n *yaml.Node) bool { return n == nil || n.Kind == yaml.MappingNode }

// namesOf are the keys of the first, then those that only the second has.
func namesOf(nodes ...*yaml.Node) []string {
	var names []string
	for _, n := range nodes {
		for i := 0; n != nil && n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
			if key := n.Content[i].Value; !slices.Contains(names, key) {
				names = append(names, key)
			}
		}
	}
	return names
}

// pick is one line: from either side where both say the same.
func (b builder) pick(place, name string, old, new *yaml.Node) *yaml.Node {
	if b.same(old, new) {
		return new
	}
	k, known := b.at[place]
	if !known {
		k = len(b.lines)
		b.at[place] = k
		b.merger.lines = append(b.merger.lines, line{name, old, new})
	}
	if b.takesNew(k) {
		return new
	}
	return old
}

// lineName is how the answer names what a line states.
func lineName(path []string) string {
	switch {
	case path[0] == "inputs" || path[0] == "own" || path[0] == "outputs":
		return strings.Join(path[1:], ".")
	case path[0] == "vehicles" && len(path) == 2:
		return "vehicle " + path[1]
	case path[0] == "vehicles":
		return strings.Join(path[1:], ".")
	case path[0] == "claims" && len(path) == 2:
		return "claim " + path[1]
	}
	return strings.Join(path, ".")
}

// same reports whether two lines say the same to the numbers: free text, layout and the
// order of keys apart.
func (m *merger) same(a, b *yaml.Node) bool {
	if a, b = m.bare(a), m.bare(b); a == nil || b == nil {
		return a == b
	}
	if a.Kind != b.Kind {
		return false
	}
	switch a.Kind {
	case yaml.ScalarNode:
		return a.Value == b.Value
	case yaml.MappingNode:
		for _, key := range namesOf(a, b) {
			if !m.free[key] && !m.same(child(a, key), child(b, key)) {
				return false
			}
		}
		return true
	}
	if len(a.Content) != len(b.Content) {
		return false
	}
	for i := range a.Content {
		if !m.same(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}

// bare is the value of an item that states nothing else.
func (m *merger) bare(n *yaml.Node) *yaml.Node {
	value := child(n, "value")
	for _, key := range namesOf(n) {
		if key != "value" && !m.free[key] {
			return n
		}
	}
	if value == nil {
		return n
	}
	return value
}

// write puts a combination into an empty folder and returns the path of its study.
func (m *merger) write(folder string, takesNew func(line int) bool, rows int, seed uint64) (string, error) {
	files := m.build(takesNew)
	root := files[""]
	if root == nil {
		return "", fmt.Errorf("nothing is left of the study")
	}
	set := func(key, value string) error {
		n, err := parse([]byte(value))
		if err == nil {
			root.Content = append(root.Content, scalar(key), n)
		}
		return err
	}
	if err := set("sample", fmt.Sprintf("{rows: %d, design: latin, seed: %d}", rows, seed)); err != nil {
		return "", err
	}
	if err := set("indices", "none"); err != nil {
		return "", err
	}
	if m.old.vehicles && m.new.vehicles {
		baseline := m.new.baseline
		if k, differs := m.at["baseline"]; differs && !takesNew(k) {
			baseline = m.old.baseline
		}
		root.Content = append(root.Content, scalar("baseline"), scalar(baseline))
	}
	given := filepath.Join(folder, "given")
	if err := os.Mkdir(given, 0o700); err != nil {
		return "", err
	}
	for _, name := range keysOf(files) {
		if name == "" || files[name] == nil {
			continue
		}
		if err := writeNode(filepath.Join(given, name), files[name]); err != nil {
			return "", err
		}
	}
	for _, name := range keysOf(m.old.files, m.new.files) {
		data, ok := m.new.files[name]
		if k, differs := m.at["file "+name]; !ok || differs && !takesNew(k) {
			data = m.old.files[name]
		}
		if err := os.WriteFile(filepath.Join(given, name), data, 0o600); err != nil {
			return "", err
		}
	}
	path := filepath.Join(folder, "study.yaml")
	return path, writeNode(path, root)
}

func writeNode(path string, n *yaml.Node) error {
	data, err := yaml.Marshal(n)
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o600)
}
