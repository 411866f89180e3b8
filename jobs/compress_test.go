package jobs

import (
	"bytes"
	"errors"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// Packed files of the sample hold the same values in fewer bytes, and give the same bytes of every table. A run that was
// stopped goes on as it was begun, whatever is asked for then; so do slices of a cluster.
func TestCompress(t *testing.T) {
	path := writeSteps(t)
	plain := Options{Out: filepath.Join(t.TempDir(), "plain")}
	want := runInto(t, path, plain)
	packed := Options{Out: filepath.Join(t.TempDir(), "packed"), Compress: true}
	all := runInto(t, path, packed)
	var before, after int
	for name, data := range all {
		if !strings.HasPrefix(name, "samples") {
			if !bytes.Equal(data, want[name]) {
				t.Errorf("%s differs from that of a run that packs nothing", name)
			}
			continue
		}
		before, after = before+len(want[name]), after+len(data)
		here, there := read(t, packed.Out, name), read(t, plain.Out, name)
		for i, c := range there.Columns {
			same := func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }
			if got := here.Columns[i]; got.Name != c.Name || got.Unit != c.Unit || !slices.EqualFunc(got.Floats, c.Floats, same) || !slices.Equal(got.Ints, c.Ints) || !slices.Equal(got.Bools, c.Bools) {
				t.Errorf("%s: column %s differs", name, c.Name)
			}
		}
		if !maps.Equal(here.Meta, there.Meta) || here.Meta[result.MetaSchema] != "2" {
			t.Errorf("%s: metadata %v and %v", name, here.Meta, there.Meta)
		}
	}
	if after >= before*9/10 || result.Verify(packed.Out) != nil {
		t.Errorf("%d bytes packed of %d; %v", after, before, result.Verify(packed.Out))
	}

	stopped, parts := errors.New("stopped"), 0
	on := Options{Out: filepath.Join(t.TempDir(), "on"), Compress: true, Workers: 1, kept: func(plan.Key) error {
		if parts++; parts == 3 {
			return stopped
		}
		return nil
	}}
	if _, err := Run(t.Context(), path, on); !errors.Is(err, stopped) {
		t.Fatalf("error %v", err)
	}
	on.Compress, on.kept = false, nil
	equalTables(t, "gone on with", runInto(t, path, on), all)

	shared := Options{Out: filepath.Join(t.TempDir(), "shared"), Compress: true}
	for {
		_, err := Join(t.Context(), path, 0, shared)
		if err == nil {
			break
		}
		if due := new(Due); !errors.As(err, &due) {
			t.Fatal(err)
		}
		if _, err := Slice(t.Context(), shared.Out, SliceOptions{Share: Share{K: 1, N: 1}, Round: -1}); err != nil {
			t.Fatal(err)
		}
		shared.Compress = false
	}
	equalTables(t, "by join and slice", TablesOf(t, shared.Out), all)
}

func read(t *testing.T, folder, name string) *result.Table {
	t.Helper()
	table, err := result.ReadTable(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// What reads the columns of a study finds them, with the same values, in the result of one that has further outputs, claims
// and inputs: by name, whatever stands between.
func TestAddedColumnsBreakNoReader(t *testing.T) {
	old := writeSteps(t)
	more := strings.NewReplacer("inputs: {a:", "inputs: {aa: {between: [1, 2]}, a:", "outputs: {", "outputs: {added: aa * a, ", "claims: {", "claims: {also: {holds: aa > a}, ",
		"{half_width: 0.004}", "").Replace(readFile(t, old))
	added := WriteStudy(t, more)
	var out [2]string
	for i, path := range []string{old, added} {
		o := Options{Out: filepath.Join(t.TempDir(), "out")}
		o.Study.Rows = 2048
		out[i] = o.Out
		runInto(t, path, o)
	}
	first := result.SliceName(result.SampleKind, 0, 0)
	before, after := read(t, out[0], first), read(t, out[1], first)
	if len(after.Columns) < len(before.Columns)+4 {
		t.Fatalf("%d columns, before %d", len(after.Columns), len(before.Columns))
	}
	for _, c := range before.Columns {
		if got := after.Column(c.Name); got == nil || !slices.Equal(got.Floats, c.Floats) || !slices.Equal(got.Ints, c.Ints) || !slices.Equal(got.Bools, c.Bools) || got.Unit != c.Unit {
			t.Errorf("column %s is not what it was", c.Name)
		}
	}
	rows := RowsOf(t, result.Summary.Read, out[1])
	if !slices.ContainsFunc(rows, func(r result.SummaryRow) bool { return r.Output == "y" }) {
		t.Errorf("%d rows, none of y", len(rows))
	}
}
