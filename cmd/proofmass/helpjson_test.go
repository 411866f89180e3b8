package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// printedPaths are the fields of a document that was printed, as help json writes them.
// Mappings of names are those that the help says are.
func printedPaths(v any, path string, told, seen map[string]bool) {
	switch x := v.(type) {
	case map[string]any:
		if told[path+"{}"] {
			for _, of := range x {
				printedPaths(of, path+"{}", told, seen)
			}
			return
		}
		for key, of := range x {
			next := key
			if path != "" {
				next = path + "." + key
			}
			printedPaths(of, next, told, seen)
		}
	case []any:
		for _, of := range x {
			printedPaths(of, path+"[]", told, seen)
		}
		if len(x) == 0 {
			return
		}
	default:
		seen[path] = true
	}
}

// TestJSONFieldsAreTold: every field that a command prints stands in help json, and every
// field told there is one that the printed type has.
func TestJSONFieldsAreTold(t *testing.T) {
	folder := t.TempDir()
	study, old, later := write(t, small), filepath.Join(folder, "old"), filepath.Join(folder, "new")
	proof("run", study, "--out", old)
	proof("run", write(t, strings.Replace(small, "[1 m, 2 m]", "[1.2 m, 2 m]", 1)), "--out", later)
	heron := filepath.Join(folder, "heron")
	proof("run", studies+"heron.yaml", "--out", heron, "--rows", "1024")
	outcomes := filepath.Join(folder, "outcomes.csv")
	if err := os.WriteFile(outcomes, []byte("study,name,value,unit,guess,guess_sd\nheron-bonded-pack,bonded.kerb_mass,1800,kg,1850,40\nheron-bonded-pack,lighter,1,,0.5,\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	help := proof("help", "json").out
	for i, args := range [][][]string{
		{{"run", study, "--out", old, "--json"}, {"run", studies + "heron.yaml", "--out", heron, "--rows", "1024", "--json"}},
		{{"show", heron, "--row", "3", "--json"}},
		{{"check", study, studies + "heron.yaml", write(t, "format: 2\n"), "--json"}},
		{{"compare", old, later, "--json"}},
		{{"score", heron, "--against", outcomes, "--json"}},
		{{"list", "--about", "pack_mass", "--json"}, {"list", "--about", "shapley", "--json"}},
	} {
		told := map[string]bool{}
		for _, f := range fieldsOf(reflect.TypeOf(documents[i].of), "", 0) {
			told[f.path] = true
			if !strings.Contains(help, "  "+f.path+" ") && !strings.Contains(help, "  "+f.path+"\n") {
				t.Errorf("%s is not in the help", f.path)
			}
		}
		for _, a := range args {
			got := proof(a...)
			var v any
			if err := json.Unmarshal([]byte(got.out), &v); err != nil {
				t.Fatalf("%v: %v, %s", a, err, got.err)
			}
			seen := map[string]bool{}
			if list, ok := v.([]any); ok {
				for _, of := range list {
					printedPaths(of, "", told, seen)
				}
			} else {
				printedPaths(v, "", told, seen)
			}
			if len(seen) < 3 {
				t.Errorf("%v prints only %v", a, seen)
			}
			for path := range seen {
				if !told[path] {
					t.Errorf("%v prints %s, which help json does not tell", a, path)
				}
			}
		}
	}
}
