package jobs

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// steps is a study whose run has a step of every kind: a sample that grows, screening that
// sets inputs aside, tied inputs, pairs that act together. Small, so that it can be begun
// anew after each of its slices.
const steps = `format: 1
study: steps
model: formulas
inputs: {a: {between: [0, 1]}, b: {between: [0, 1]}, c: {normal: {mean: 1, sd: 0.3}}, d: {normal: {mean: 2, sd: 0.3}}, e: {between: [0, 1]}, f: {between: [0, 1]}}
together: [{inputs: [c, d], spearman: 0.5}]
outputs: {y: a * b + c + d + 0.001 * (e + f)}
claims: {large: {holds: y > 3.2}}
sample: {half_width: {chance: 0.004}, at_most: 32_768, seed: 4}
indices: {half_width: 0.08, at_most: 100_000, screen: yes}
`

// TablesOf are the Parquet files of a folder, samples too, by name.
func TablesOf(t *testing.T, folder string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".parquet") {
			name, _ := filepath.Rel(folder, path)
			files[name], err = os.ReadFile(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func writeSteps(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "steps.yaml")
	if err := os.WriteFile(path, []byte(steps), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func runInto(t *testing.T, path string, o Options) map[string][]byte {
	t.Helper()
	if _, err := Run(t.Context(), path, o); err != nil {
		t.Fatal(err)
	}
	return TablesOf(t, o.Out)
}

func equalTables(t *testing.T, what string, got, want map[string][]byte) {
	t.Helper()
	if len(got) != len(want) || len(want) < 5 {
		t.Errorf("%s: %d files, want %d", what, len(got), len(want))
	}
	for name := range want {
		if !bytes.Equal(got[name], want[name]) {
			t.Errorf("%s: %s differs", what, name)
		}
	}
}

func reversed(s []plan.Slice) []plan.Slice {
	s = slices.Clone(s)
	slices.Reverse(s)
	return s
}

// The study has steps of all kinds; its slices done in reverse give the same bytes; what
// was decided stands in the manifest, and nothing is left of the parts.
func TestSlicesInReverse(t *testing.T) {
	path, out := writeSteps(t), filepath.Join(t.TempDir(), "out")
	kinds := map[plan.Kind]int{}
	want := runInto(t, path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error { kinds[k.Kind]++; return nil }})
	for _, k := range []plan.Kind{plan.Sample, plan.Tornado, plan.Screen, plan.Index, plan.Shapley, plan.Pairs} {
		if kinds[k] == 0 {
			t.Errorf("no slice of kind %s", k)
		}
	}
	m, err := result.ReadManifest(out)
	if err != nil || len(m.Screened) != 2 || len(m.Pairs) != 1 || m.Pairs[0] != [2]string{"a", "b"} {
		t.Errorf("%v; set aside %v, pairs %v", err, m.Screened, m.Pairs)
	}
	if _, err := os.Stat(filepath.Join(out, "work")); err == nil {
		t.Error("parts are left")
	}
	equalTables(t, "in reverse", runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "out"), Workers: 1, order: reversed}), want)
}

// errEnded ends a run as a kill would: nothing that it has in memory is kept.
var errEnded = errors.New("ended")

// Ended after each of its slices in turn and begun anew, a run makes no slice twice and
// comes to the same bytes.
func TestEndedBetweenAnyTwoSlices(t *testing.T) {
	path, out := writeSteps(t), filepath.Join(t.TempDir(), "out")
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole"), Workers: 1})
	made := map[plan.Key]int{}
	runs := 0
	for ; ; runs++ {
		_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error {
			made[k]++
			return errEnded
		}})
		if err == nil {
			break
		}
		if !errors.Is(err, errEnded) || runs > 1000 {
			t.Fatal(err)
		}
	}
	if runs != len(made) || runs < 100 {
		t.Errorf("%d runs made %d slices", runs, len(made))
	}
	equalTables(t, "ended after every slice", TablesOf(t, out), want)
}

// Two loops at once in one folder, one of them backwards, share the slices and both come to
// the same bytes.
func TestTwoLoopsInOneFolder(t *testing.T) {
	path := writeSteps(t)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	s, err := Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "out")
	var made [2]int
	var jobs [2]*job
	for k := range jobs {
		p, err := plan.New(s)
		if err != nil {
			t.Fatal(err)
		}
		lock, err := result.LockFolder(out) // one after the other: two loops do not lock
		if err != nil {
			t.Fatal(err)
		}
		lock.Release()
		o := Options{Out: out, Workers: 1, shared: true, kept: func(plan.Key) error { made[k]++; return nil }}
		if k == 1 {
			o.order = reversed
		}
		jobs[k] = newJob(t.Context(), p, lock.Folder(), o)
	}
	if err := errors.Join(jobs[0].folder.WriteManifest(jobs[0].manifest), jobs[0].given(t.Context())); err != nil {
		t.Fatal(err)
	}
	var errs [2]error
	var both sync.WaitGroup
	for k, j := range jobs {
		both.Go(func() { errs[k] = j.loop(t.Context()) })
	}
	both.Wait()
	if err := errors.Join(errs[:]...); err != nil {
		t.Fatal(err)
	}
	for _, j := range jobs {
		if err := errors.Join(j.summarise(t.Context()), j.sensitivity(t.Context())); err != nil {
			t.Fatal(err)
		}
		equalTables(t, "two loops", TablesOf(t, out), want)
	}
	if made[0] == 0 || made[1] == 0 {
		t.Errorf("slices made: %v", made)
	}
}

// A part of another study, of another version, cut off or changed is made anew.
func TestSpoiltPartsAreMadeAnew(t *testing.T) {
	path, out := writeSteps(t), filepath.Join(t.TempDir(), "out")
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole"), Workers: 1})
	ctx, stop := context.WithCancel(t.Context())
	_, err := Run(ctx, path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error {
		if k.Kind == plan.Pairs {
			stop()
		}
		return nil
	}})
	if !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	spoil(t, out)
	made := 0
	got := runInto(t, path, Options{Out: out, Workers: 1, kept: func(plan.Key) error { made++; return nil }})
	equalTables(t, "spoilt", got, want)
	if made < 5 {
		t.Errorf("only %d slices were made anew", made)
	}
}

// spoil changes one part after the other in a way of its own, and a file of the sample.
func spoil(t *testing.T, out string) {
	t.Helper()
	var parts []string
	err := filepath.WalkDir(filepath.Join(out, "work"), func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".part") && !strings.Contains(path, "/sample/") {
			parts = append(parts, path)
		}
		return err
	})
	if err != nil || len(parts) < 40 {
		t.Fatalf("%v; %d parts", err, len(parts))
	}
	change := func(path string, how func([]byte) []byte) {
		data, err := os.ReadFile(path)
		if err == nil {
			err = os.WriteFile(path, how(data), 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	change(parts[0], func(b []byte) []byte { return b[:len(b)-3] })
	change(parts[9], func(b []byte) []byte { b[len(b)-1] ^= 1; return b })
	change(parts[18], func(b []byte) []byte { return bytes.Replace(b, []byte(Version), []byte("9.9.9"), 1) })
	change(parts[27], func(b []byte) []byte { return nil })
	change(filepath.Join(out, "samples", "0000", "slice-00000002.parquet"), func(b []byte) []byte { b[len(b)/2] ^= 1; return b })
}

// Replicates of several slices are joined in the order of their rows too, whatever comes
// first: sums of rows differ in their last bits if they are added in another order.
func TestSeveralSlicesOfAReplicateInReverse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.yaml")
	study := `format: 1
study: long
model: formulas
inputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}
outputs: {y: a * b + 0.3 * a}
sample: {rows: 262_144, seed: 4}
indices: {half_width: 0.001, at_most: 1_600_000}
`
	if err := os.WriteFile(path, []byte(study), 0o666); err != nil {
		t.Fatal(err)
	}
	several := false
	order := func(s []plan.Slice) []plan.Slice {
		for i := range s[1:] {
			several = several || s[i].Replicate == s[i+1].Replicate
		}
		return reversed(s)
	}
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "out"), Workers: 1})
	got := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "back"), Workers: 1, order: order})
	if !several {
		t.Error("no replicate has two slices: the test shows nothing")
	}
	equalTables(t, "in reverse", got, want)
}
