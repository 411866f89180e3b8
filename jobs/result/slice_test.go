package result

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"proofmass/jobs/files"
)

func newFolder(t *testing.T) *Folder {
	t.Helper()
	f, err := Create(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func newSlices(t testing.TB, columns int) *SliceWriter {
	t.Helper()
	names := make([]Column, columns)
	for i := range names {
		names[i] = Column{Name: fmt.Sprintf("car.quantity_%02d", i), Unit: "kg", Meaning: "an invented quantity", Source: "invented"}
	}
	w, err := NewSliceWriter(names, map[string]string{"seed": "1"})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// values fills columns so that value (row, column) is known: row + column/64, null where (row+column) % 11 == 0.
func values(columns, first, rows int) [][]float64 {
	out := make([][]float64, columns)
	for c := range out {
		out[c] = make([]float64, rows)
		for r := range out[c] {
			out[c][r] = known(first+r, c)
		}
	}
	return out
}

func known(row, column int) float64 {
	if (row+column)%11 == 0 {
		return nan
	}
	return float64(row) + float64(column)/64
}

func TestSlicesJoin(t *testing.T) {
	f, w := newFolder(t), newSlices(t, 3)
	sizes := []int{100, 1, 0, 257, 8}
	var paths []string
	rows := 0
	for i, n := range sizes {
		name := SliceName(SampleKind, 0, i)
		s := &Slice{FirstRow: int64(rows), Choice: 2, Replicate: int32(i), Columns: values(3, rows, n)}
		if _, err := w.Write(f, name, s); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, f.Path(name))
		rows += n
	}
	want := map[string]func(row int) float64{
		"row":             func(r int) float64 { return float64(r) },
		"choice":          func(int) float64 { return 2 },
		"weight":          func(int) float64 { return 1 },
		"car.quantity_02": func(r int) float64 { return known(r, 2) },
		"feasible": func(r int) float64 {
			for c := range 3 {
				if x := known(r, c); x != x {
					return 0
				}
			}
			return 1
		},
	}
	s, err := OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	if s.Rows() != rows || !reflect.DeepEqual(s.Names(), []string{"row", "choice", "replicate", "weight", "feasible", "car.quantity_00", "car.quantity_01", "car.quantity_02"}) {
		t.Errorf("%d rows of %v", s.Rows(), s.Names())
	}
	readPieces(t, s, want, rows)
	for name, value := range want {
		got, err := s.Read(name, []float64{-7})
		if err != nil || len(got) != rows+1 || got[0] != -7 {
			t.Fatalf("%s: %d values, %v", name, len(got), err)
		}
		for r, x := range got[1:] {
			if math.Float64bits(x) != math.Float64bits(value(r)) && !(x != x && value(r) != value(r)) {
				t.Fatalf("%s: row %d is %v, want %v", name, r, x, value(r))
			}
		}
	}
	if again, err := readColumn(paths, "replicate", nil); err != nil || again[100] != 1 || again[101] != 3 {
		t.Errorf("replicate: %v, %v", again, err)
	}
}

func TestSliceGiven(t *testing.T) {
	f, w := newFolder(t), newSlices(t, 1)
	name := SliceName("rare", 3, 7)
	s := &Slice{FirstRow: 1 << 40, Weight: []float64{0.25, 2}, Feasible: []bool{true, false}, Columns: [][]float64{{1, 2}}}
	if _, err := w.Write(f, name, s); err != nil {
		t.Fatal(err)
	}
	got, err := ReadTable(f.Path("work/rare/0003/slice-00000007.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Column("row").Ints, []int64{1 << 40, 1<<40 + 1}) || !reflect.DeepEqual(got.Column("weight").Floats, s.Weight) ||
		!reflect.DeepEqual(got.Column("feasible").Bools, s.Feasible) || got.Column("car.quantity_00").Unit != "kg" || got.Meta["seed"] != "1" {
		t.Errorf("read %+v", got)
	}
}

// A used writer gives the bytes of a fresh one, after larger and smaller slices and after an error.
func TestSliceWriterKeepsNothing(t *testing.T) {
	used := newSlices(t, 4)
	for _, rows := range []int{900, 3, 0, 64} {
		s := &Slice{FirstRow: 5, Replicate: 1, Columns: values(4, 5, rows)}
		want, err := newSlices(t, 4).encode(s)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := used.encode(s); err != nil || string(got) != string(want) {
			t.Errorf("%d rows: %d bytes from a used writer, %d from a fresh one, %v", rows, len(got), len(want), err)
		}
		if _, err := used.encode(&Slice{Weight: []float64{nan}, Columns: values(4, 0, 1)}); err == nil {
			t.Error("a weight of NaN was taken")
		}
	}
}

// Memory: beside the caller's columns there is one buffer, the file's image; a row costs no allocation.
func TestSliceWriterAllocation(t *testing.T) {
	w := newSlices(t, 60)
	perSlice := func(rows int) float64 {
		s := &Slice{Columns: values(60, 0, rows)}
		return testing.AllocsPerRun(5, func() {
			if _, err := w.encode(s); err != nil {
				t.Fatal(err)
			}
		})
	}
	big, small := perSlice(8192), perSlice(64)
	if big > small {
		t.Errorf("%v allocations for 8192 rows, %v for 64", big, small)
	}
}

func TestSliceRefuses(t *testing.T) {
	f, w := newFolder(t), newSlices(t, 2)
	for want, s := range map[string]*Slice{
		"1 columns given":             {Columns: [][]float64{{1}}},
		"car.quantity_01 has 1 rows":  {Columns: [][]float64{{1, 2}, {1}}},
		"weight has 1 rows":           {Columns: [][]float64{{1, 2}, {1, 2}}, Weight: []float64{1}},
		"feasible 3":                  {Columns: [][]float64{{1, 2}, {1, 2}}, Feasible: make([]bool, 3)},
		"weight: 1 values are NaN":    {Columns: [][]float64{{1}, {1}}, Weight: []float64{nan}},
		"a file holds at most 167772": {Columns: [][]float64{make([]float64, maxRows+1), make([]float64, maxRows+1)}},
	} {
		if _, err := w.Write(f, SliceName(SampleKind, 0, 0), s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", want, err)
		}
	}
	if entries, _ := os.ReadDir(f.path); len(entries) > 0 {
		t.Errorf("a refused slice left %v", entries)
	}
	if _, err := NewSliceWriter([]Column{{Name: "weight"}}, nil); err == nil || !strings.Contains(err.Error(), "used twice") {
		t.Errorf("a column named weight: error %v", err)
	}
	if _, err := NewSliceWriter(nil, map[string]string{"column.x": ""}); err == nil {
		t.Error("metadata column.x was taken")
	}
}

func TestReadColumnRefuses(t *testing.T) {
	a := write(t, sample())
	b := write(t, &Table{Columns: []Column{{Name: "a", Floats: []float64{1}}}})
	for want, f := range map[string]func() error{
		"columns differ":               func() error { _, err := readColumn([]string{a, b}, "a", nil); return err },
		`no column "kerb", there are`:  func() error { _, err := readColumn([]string{a}, "kerb", nil); return err },
		"text: column text holds text": func() error { _, err := readColumn([]string{a}, "text", nil); return err },
		"no such file":                 func() error { _, err := readColumn([]string{a + "x"}, "text", nil); return err },
		"is a device, not a regular":   func() error { _, err := readColumn([]string{os.DevNull}, "text", nil); return err },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", want, err)
		}
	}
	if got, err := readColumn(nil, "a", []float64{3}); err != nil || len(got) != 1 {
		t.Errorf("no files: %v, %v", got, err)
	}
}

// Workers write slices of one round at the same time, each with its own writer, and read the joined columns at the same time:
// the files are those of one worker.
func TestSlicesConcurrently(t *testing.T) {
	const count, workers = 12, 4
	alone, together := newFolder(t), newFolder(t)
	writeSlices := func(f *Folder, from, step int) {
		w := newSlices(t, 2)
		for i := from; i < count; i += step {
			if _, err := w.Write(f, SliceName(SampleKind, 0, i), &Slice{FirstRow: int64(5 * i), Columns: values(2, 5*i, 5)}); err != nil {
				t.Error(err)
			}
		}
	}
	writeSlices(alone, 0, 1)
	var group sync.WaitGroup
	for k := range workers {
		group.Go(func() { writeSlices(together, k, workers) })
	}
	group.Wait()
	if !reflect.DeepEqual(tree(t, alone.path), tree(t, together.path)) {
		t.Error("the files differ")
	}
	var paths []string
	for i := range count {
		paths = append(paths, together.Path(SliceName(SampleKind, 0, i)))
	}
	s, err := OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	for range workers {
		group.Go(func() {
			if got, err := s.Read("row", nil); err != nil || len(got) != 5*count || got[59] != 59 {
				t.Errorf("%v, %v", got, err)
			}
		})
	}
	group.Wait()
}

var nan = math.NaN()

// sample is a small table of numbers and texts.
func sample() *Table {
	x, texts := make([]float64, 19), make([]string, 19)
	for i := range x {
		x[i], texts[i] = known(i, 3), fmt.Sprint("row ", i)
	}
	return &Table{Columns: []Column{{Name: "mass", Unit: "kg", Floats: x, Nullable: true}, {Name: "text", Texts: texts}}, Meta: map[string]string{"study": "heron"}}
}

func write(t *testing.T, table *Table) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "t.parquet")
	d, err := writeTable(files.Disk{}, path, table)
	if err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(path); err != nil || d != digestOf(data) {
		t.Errorf("digest returned %v, of the file %v, %v", d, digestOf(data), err)
	}
	return path
}

func TestRefusedTableIsNotWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "t.parquet")
	_, err := writeTable(files.Disk{}, path, &Table{Columns: []Column{{Name: "a", Floats: []float64{nan}}}})
	if err == nil || !strings.HasPrefix(err.Error(), path+": column a: 1 values are NaN") {
		t.Errorf("error %v", err)
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Error("a file was written")
	}
}

// readColumn reads one column of the files.
func readColumn(paths []string, column string, dst []float64) ([]float64, error) {
	s, err := OpenSlices(paths)
	if err != nil {
		return dst, err
	}
	return s.Read(column, dst)
}

// readPieces: any rows of a column come in order, whatever files they lie in.
func readPieces(t *testing.T, s *Slices, want map[string]func(row int) float64, rows int) {
	t.Helper()
	reader := s.Reader()
	for name, value := range want {
		column, err := reader.Column(name)
		if err != nil || column.Rows() != rows {
			t.Fatalf("%s: %v", name, err)
		}
		for _, part := range [][2]int{{0, rows}, {1, rows - 1}, {rows / 2, rows/2 + 1}, {rows - 1, rows}, {2, 2}} {
			at := part[0]
			err := column.Each(part[0], part[1], func(piece []float64) error {
				for _, x := range piece {
					if w := value(at); math.Float64bits(x) != math.Float64bits(w) && !(x != x && w != w) {
						t.Fatalf("%s: row %d is %v, want %v", name, at, x, w)
					}
					at++
				}
				return nil
			})
			if err != nil || at != part[1] {
				t.Errorf("%s: rows %v ended at %d, %v", name, part, at, err)
			}
		}
	}
	if _, err := reader.Column("nowhere"); err == nil || !strings.Contains(err.Error(), "there is no column") {
		t.Errorf("a column that is not there: %v", err)
	}
}
