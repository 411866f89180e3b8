package parquet

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"testing"
)

func grown(from, rows int) *Table {
	t := &Table{Columns: []Column{{Name: "n", Unit: "kg", Ints: []int64{}}, {Name: "x", Floats: []float64{}, Nullable: true}, {Name: "word", Meaning: "a word", Texts: []string{}}, {Name: "yes", Bools: []bool{}}}}
	for i := from; i < from+rows; i++ {
		x := float64(i) / 3
		if i%5 == 0 {
			x = math.NaN()
		}
		c := t.Columns
		c[0].Ints, c[1].Floats, c[2].Texts, c[3].Bools = append(c[0].Ints, int64(i)), append(c[1].Floats, x), append(c[2].Texts, fmt.Sprint("w", i)), append(c[3].Bools, i%2 == 0)
	}
	return t
}

func streamed(t *testing.T, meta map[string]string, groups ...int) []byte {
	t.Helper()
	var out bytes.Buffer
	s, err := NewStream(&out, grown(0, 0))
	if err != nil {
		t.Fatal(err)
	}
	from := 0
	for _, rows := range groups {
		if err := s.Add(grown(from, rows)); err != nil {
			t.Fatal(err)
		}
		from += rows
	}
	if err := s.Close(meta); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A table of several groups reads back as one; of one group, and of none, it has the bytes of
// Encode.
func TestStream(t *testing.T) {
	meta := map[string]string{"key": "value"}
	for _, groups := range [][]int{{}, {7}, {7, 0, 9}, {1, 1, 1}, {3, 4000}} {
		rows := 0
		for _, g := range groups {
			rows += g
		}
		want := grown(0, rows)
		want.Meta = meta
		image := streamed(t, meta, groups...)
		whole, err := Encode(want)
		if err != nil {
			t.Fatal(err)
		}
		if len(groups) < 2 && !bytes.Equal(image, whole) {
			t.Errorf("%v: other bytes than Encode", groups)
		}
		got, err := ReadTable(bytes.NewReader(image), int64(len(image)))
		if err != nil {
			t.Fatal(groups, err)
		}
		again, err := Encode(got)
		if err != nil || !bytes.Equal(again, whole) {
			t.Errorf("%v: reads back as another table: %v", groups, err)
		}
		f, err := Open(bytes.NewReader(image), int64(len(image)))
		if err != nil {
			t.Fatal(err)
		}
		var buffer []byte
		x, err := f.Numbers(bytes.NewReader(image), 1, nil, &buffer)
		if err != nil || len(x) != rows {
			t.Errorf("%v: %d numbers, %v", groups, len(x), err)
		}
		seen := 0
		told, err := ReadGroups(bytes.NewReader(image), int64(len(image)), func(g *Table) error { seen += g.Rows(); return nil })
		if err != nil || seen != rows || !reflect.DeepEqual(told, meta) {
			t.Errorf("%v: groups of %d rows, %v, %v", groups, seen, told, err)
		}
		if rows > 1 {
			foreign, err := ForeignNumbers(image, "n", rows)
			if err != nil || len(foreign) != rows || foreign[rows-1] != float64(rows-1) {
				t.Errorf("%v: as a file of others: %d, %v", groups, len(foreign), err)
			}
		}
	}
}

// A changed byte of a file of several groups is found, but where nothing refers to it.
func TestStreamDamaged(t *testing.T) {
	image := streamed(t, nil, 5, 6)
	for i := range image {
		changed := bytes.Clone(image)
		changed[i] ^= 0x10
		if _, err := ReadTable(bytes.NewReader(changed), int64(len(changed))); err == nil {
			got, _ := ReadTable(bytes.NewReader(changed), int64(len(changed)))
			if want := grown(0, 11); !reflect.DeepEqual(got.Columns[0].Ints, want.Columns[0].Ints) || !reflect.DeepEqual(got.Columns[2].Texts, want.Columns[2].Texts) {
				t.Errorf("byte %d is changed and the table read", i)
			}
		}
	}
}
