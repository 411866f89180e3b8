package schema

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"proofmass/jobs/begin"
	"proofmass/jobs/study"
)

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := JSON(study.BuiltIn())
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("study.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("study.json") // checks it against the draft's own schema too
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance is a YAML file as an editor sees it: mappings, lists and scalars of JSON.
func instance(text []byte) (any, error) {
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		return nil, err
	}
	return plain(document.Content[0])
}

func plain(n *yaml.Node) (any, error) {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			v, err := plain(n.Content[i+1])
			if err != nil {
				return nil, err
			}
			m[n.Content[i].Value] = v
		}
		return m, nil
	case yaml.SequenceNode:
		l := []any{}
		for _, item := range n.Content {
			v, err := plain(item)
			if err != nil {
				return nil, err
			}
			l = append(l, v)
		}
		return l, nil
	}
	if n.ShortTag() == "!!null" {
		return nil, nil
	}
	if n.ShortTag() == "!!int" || n.ShortTag() == "!!float" {
		if x := json.Number(n.Value); json.Valid([]byte(x)) {
			return x, nil
		}
	}
	return n.Value, nil
}

// TestRightStudiesAreRight: every study that the program takes, the schema takes.
func TestRightStudiesAreRight(t *testing.T) {
	s := compiled(t)
	texts := map[string][]byte{"help": []byte(study.Example)}
	texts["show_in"] = []byte("format: 1\nshow_in: {label_range: mile, mass: lb}\nvehicles: {today: {kerb_mass: 1610(15) kg}}\n")
	for _, k := range begin.Kinds() {
		texts["new "+k.Name], _ = begin.Text(k.Name, "x.yaml")
	}
	for _, pattern := range []string{"../../testdata/studies/*.yaml", "../../cmd/proofmass/testdata/golden/*.yaml", "../analyse/testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", pattern, len(files), err)
		}
		for _, f := range files {
			if texts[f], err = os.ReadFile(f); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, text := range texts {
		x, err := instance(text)
		if err != nil {
			t.Fatal(err)
		}
		if m, isMap := x.(map[string]any); isMap && strings.HasSuffix(name, "drum-cell.yaml") && m["format"] == nil {
			m["format"] = json.Number("1") // a used file need not say it
		}
		if err := s.Validate(x); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestWrongStudiesAreCaught: the schema finds what is wrong with those studies of
// testdata/wrong whose mistake lies in their shape. The reader refuses all of them.
func TestWrongStudiesAreCaught(t *testing.T) {
	s := compiled(t)
	files, err := filepath.Glob("../../testdata/wrong/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	var caught []string
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		x, err := instance(text)
		if err != nil {
			continue // no YAML: an editor says so itself
		}
		if s.Validate(x) != nil {
			caught = append(caught, strings.TrimSuffix(filepath.Base(f), ".yaml"))
		}
	}
	want, err := os.ReadFile("testdata/caught.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(want)) {
		if !slices.Contains(caught, name) {
			t.Errorf("%s is no longer caught", name)
		}
	}
	if len(caught) != len(strings.Fields(string(want))) {
		t.Errorf("caught now (testdata/caught.txt):\n%s", strings.Join(caught, "\n"))
	}
}

// TestEveryKeyIsThere: what the language tells stands in the schema, with its description.
func TestEveryKeyIsThere(t *testing.T) {
	text, err := JSON(study.BuiltIn())
	if err != nil {
		t.Fatal(err)
	}
	for _, section := range study.Language() {
		for _, k := range section.Keys {
			if k.Key != strings.ToUpper(k.Key) && !bytes.Contains(text, []byte(`"`+k.Key+`": {`)) {
				t.Errorf("%s: no %s", section.Title, k.Key)
			}
		}
	}
	for _, want := range []string{"kerb mass, on the car's mass basis, in kg", "hexagonal", "read_off_picture", "latin_low_correlation"} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("lacks %q", want)
		}
	}
	if again, _ := JSON(study.BuiltIn()); !bytes.Equal(text, again) {
		t.Error("not the same twice")
	}
}
