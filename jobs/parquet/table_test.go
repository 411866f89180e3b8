package parquet

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

var nan = math.NaN()

// sample is a table of every kind: 19 rows, so that packed bits end inside a byte.
func sample() *Table {
	t := &Table{
		Columns: []Column{
			{Name: "bonded.kerb_mass", Unit: "kg", Meaning: "mass ready to drive, ohne Fahrer", Source: "invented: <\"&>", Floats: []float64{}, Nullable: true},
			{Name: "all_null", Unit: "K", Floats: []float64{}, Nullable: true},
			{Name: "no_null", Floats: []float64{}, Nullable: true},
			{Name: "required", Unit: "1", Floats: []float64{}},
			{Name: "rows", Ints: []int64{}},
			{Name: "text", Texts: []string{}},
			{Name: "holds", Bools: []bool{}},
		},
		Meta: map[string]string{"study": "heron", "seed": "1", "": "empty key"},
	}
	floats := []float64{0, math.Copysign(0, -1), 1.5, nan, math.MaxFloat64, math.SmallestNonzeroFloat64, -1, math.Inf(1), math.Inf(-1), nan}
	texts := []string{"", "plain", "µΩ 電池 \U0001f50b", "a\x00b", "line\nbreak"}
	for i := range 19 {
		c := t.Columns
		c[0].Floats = append(c[0].Floats, floats[i%len(floats)])
		c[1].Floats = append(c[1].Floats, nan)
		c[2].Floats = append(c[2].Floats, float64(i))
		c[3].Floats = append(c[3].Floats, 1/float64(i+1))
		c[4].Ints = append(c[4].Ints, int64(i)*math.MaxInt64/18-5)
		c[5].Texts = append(c[5].Texts, texts[i%len(texts)])
		c[6].Bools = append(c[6].Bools, i%3 == 0)
	}
	return t
}

// bitsOf makes NaN comparable: every null is the one NaN, and -0 is not 0.
func bitsOf(t *Table) *Table {
	out := &Table{Meta: t.Meta}
	for _, c := range t.Columns {
		if c.Floats != nil {
			c.Ints = make([]int64, len(c.Floats))
			for i, v := range c.Floats {
				c.Ints[i] = int64(math.Float64bits(v))
				if v != v {
					c.Ints[i] = 1
				}
			}
			c.Floats = nil
		}
		out.Columns = append(out.Columns, c)
	}
	return out
}

func image(t testing.TB, table *Table) *bytes.Reader {
	t.Helper()
	data, err := Encode(table)
	if err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(bytes.Clone(data))
}

func TestTableComesBack(t *testing.T) {
	empty := &Table{Columns: []Column{{Name: "a", Floats: []float64{}, Nullable: true}, {Name: "b", Texts: []string{}}, {Name: "c", Ints: []int64{}}, {Name: "d", Bools: []bool{}}}, Meta: map[string]string{}}
	one := &Table{Columns: []Column{{Name: "a", Floats: []float64{nan}, Nullable: true}}, Meta: map[string]string{}}
	for name, table := range map[string]*Table{"all kinds": sample(), "no rows": empty, "one null": one} {
		data := image(t, table)
		got, err := ReadTable(data, data.Size())
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !reflect.DeepEqual(bitsOf(got), bitsOf(table)) {
			t.Errorf("%s: read %+v, wrote %+v", name, got, table)
		}
	}
}

func TestColumnLookup(t *testing.T) {
	table := sample()
	if c := table.Column("rows"); c == nil || len(c.Ints) != 19 || table.Rows() != 19 {
		t.Errorf("Column(rows) = %v, Rows() = %d", c, table.Rows())
	}
	if c := table.Column("row"); c != nil {
		t.Errorf("Column(row) = %v, want nil", c)
	}
	if n := new(Table).Rows(); n != 0 {
		t.Errorf("Rows() without columns = %d", n)
	}
}

// The digest is frozen: the bytes of a table must not change from build to build or machine to machine. A change of the
// layout is a new createdBy and a new digest here, never a quiet update.
func TestTableBytesAreFrozen(t *testing.T) {
	const want = "ac856aa27d34a914bab252d994d0f24b8775a1c2f507d9cff3097af9582e5338"
	for range 3 {
		data, err := Encode(sample())
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(data)); got != want {
			t.Errorf("digest %s, want %s", got, want)
		}
	}
}

func TestTableRefuses(t *testing.T) {
	floats := []float64{1}
	for want, columns := range map[string][]Column{
		"needs a column":                   {},
		"empty, not UTF-8 or used twice":   {{Name: "", Floats: floats}},
		`"\xff"`:                           {{Name: "\xff", Floats: floats}},
		`column 1: the name "a"`:           {{Name: "a", Floats: floats}, {Name: "a", Floats: floats}},
		"0 of its value slices":            {{Name: "a"}},
		"2 of its value slices":            {{Name: "a", Floats: floats, Ints: []int64{1}}},
		"only floats may be null":          {{Name: "a", Ints: []int64{1}, Nullable: true}},
		"column b: 2 rows, the first":      {{Name: "a", Floats: floats}, {Name: "b", Ints: []int64{1, 2}}},
		"column a: 1 values are NaN":       {{Name: "a", Floats: []float64{1, nan}}},
		"column a: row 1: text is not UTF": {{Name: "a", Texts: []string{"", "\xff"}}},
		`"column.a.unit": not UTF-8`:       {{Name: "a", Floats: floats, Unit: "\xff"}},
		"can be described in one file":     {{Name: "a", Floats: floats, Meaning: strings.Repeat("x", maxFooterBytes)}},
		"a file holds at most":             {{Name: "a", Bools: make([]bool, MaxRows+1)}},
	} {
		if _, err := Encode(&Table{Columns: columns}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", want, err)
		}
	}
	_, err := Encode(&Table{Columns: []Column{{Name: "a", Floats: floats}}, Meta: map[string]string{"column.a.unit": "kg"}})
	if err == nil || !strings.Contains(err.Error(), "belong to columns") {
		t.Errorf("metadata key column.a.unit: error %v", err)
	}
}
