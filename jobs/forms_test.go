package jobs_test

import (
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/sys/cpu"

	"proofmass/jobs/result"
)

// formsOut is where TestTablesOfOneForm puts the digests of its tables, formsOf names the
// studies that it runs.
const (
	formsOut = "PROOFMASS_TEST_FORMS_OUT"
	formsOf  = "PROOFMASS_TEST_FORMS_OF"
)

// The demonstration takes all steps, the certified car few.
func TestSameTablesInEveryForm(t *testing.T) {
	sameTablesInEveryForm(t, "heron.yaml", "certified-car.yaml")
}

// sameTablesInEveryForm: with vector registers, as far as the processor has them, and
// without, the tables of studies have the same bytes, over all steps and over few.
func sameTablesInEveryForm(t *testing.T, names ...string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var want map[string]string
	forms := []string{"", "cpu.avx512f=off,cpu.avx2=off"}
	if cpu.X86.HasAVX512F {
		forms = append(forms, "cpu.avx512f=off")
	}
	for _, without := range forms {
		path := filepath.Join(t.TempDir(), "digests")
		child := exec.Command(self, "-test.run=^TestTablesOfOneForm$")
		child.Env = append(os.Environ(), formsOut+"="+path, formsOf+"="+strings.Join(names, " "), "GODEBUG="+without)
		if told, err := child.CombinedOutput(); err != nil {
			t.Fatalf("GODEBUG=%s: %v\n%s", without, err, told)
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]string{}
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = got
		}
		if len(got) < 20 || !maps.Equal(got, want) {
			t.Errorf("GODEBUG=%s: %d tables; other bytes than with all that the processor has", without, len(got))
		}
	}
}

// TestTablesOfOneForm is run by TestSameTablesInEveryForm in a process of its own, since the
// form is chosen when a program starts. By itself it runs one small study.
func TestTablesOfOneForm(t *testing.T) {
	out, child := os.LookupEnv(formsOut)
	names := []string{"product.yaml"}
	if child {
		names = strings.Fields(os.Getenv(formsOf))
	}
	digests := map[string]string{}
	for _, name := range names {
		rows := 256
		if name == "certified-car.yaml" {
			rows = 16_384 // above what reduced schedules are made for
		}
		o := quick(t, rows)
		mustRun(t, studies+name, o)
		m := manifestOf(t, o.Out)
		if (m.Reduced != nil) != (rows > 256) {
			t.Errorf("%s at %d rows: reduced: %v", name, rows, m.Reduced != nil)
		}
		for _, table := range slices.Sorted(maps.Keys(m.Tables)) {
			digests[name+" "+table] = m.Tables[table].SHA256
		}
		for _, r := range m.Rounds {
			if r.Kind == result.SampleKind {
				for _, s := range r.Slices {
					digests[name+" "+s.File] = s.SHA256
				}
			}
		}
	}
	if child {
		text, err := json.Marshal(digests)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(out, text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// allStudies are the paths of testdata's.
func allStudies(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob(studies + "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return paths
}
