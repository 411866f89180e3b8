package parquet

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress"
	"github.com/parquet-go/parquet-go/encoding"
)

// foreign makes a file by the library's own writer: a text column, the column x and a nested one.
func foreign(t testing.TB, node parquet.Node, values []parquet.Value, options ...parquet.WriterOption) []byte {
	t.Helper()
	schema := parquet.NewSchema("other", parquet.Group{
		"a_text": parquet.String(), "nested": parquet.Group{"x": parquet.Leaf(parquet.DoubleType)}, "x": node,
	})
	var out bytes.Buffer
	w := parquet.NewGenericWriter[any](&out, append(options, schema)...)
	for i, v := range values {
		row := parquet.Row{parquet.ByteArrayValue([]byte("row")).Level(0, 0, 0), parquet.DoubleValue(-1).Level(0, 0, 1)}
		level := 0
		if node.Optional() && !v.IsNull() {
			level = 1
		}
		if _, err := w.WriteRows([]parquet.Row{append(row, v.Level(0, level, 2))}); err != nil {
			t.Fatal(err)
		}
		if i == len(values)/2 {
			if err := w.Flush(); err != nil { // a second row group
				t.Fatal(err)
			}
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// valuesOf makes 300 values of a type, few of them different, and what they are as float64.
func valuesOf(kind parquet.Kind) (values []parquet.Value, want []float64) {
	for i := range 300 {
		n := i*i%251 - 100
		want = append(want, float64(n))
		switch kind {
		case parquet.Double:
			values, want[i] = append(values, parquet.DoubleValue(float64(n)+0.25)), float64(n)+0.25
		case parquet.Float:
			values, want[i] = append(values, parquet.FloatValue(float32(n)+0.25)), float64(n)+0.25
		case parquet.Int32:
			values = append(values, parquet.Int32Value(int32(n)))
		default:
			values = append(values, parquet.Int64Value(int64(n)))
		}
	}
	return values, want
}

// Whatever type, encoding, codec and version of pages the library's writer can choose, the numbers come back.
func TestForeignNumbers(t *testing.T) {
	types := []parquet.Type{parquet.DoubleType, parquet.FloatType, parquet.Int32Type, parquet.Int64Type}
	encodings := []encoding.Encoding{&parquet.Plain, &parquet.RLEDictionary, &parquet.DeltaBinaryPacked, &parquet.ByteStreamSplit}
	codecs := []compress.Codec{&parquet.Uncompressed, &parquet.Snappy, &parquet.Gzip, &parquet.Brotli, &parquet.Zstd, &parquet.Lz4Raw}
	tried := 0
	for _, typ := range types {
		values, want := valuesOf(typ.Kind())
		for _, e := range encodings {
			if e == &parquet.DeltaBinaryPacked && (typ.Kind() == parquet.Double || typ.Kind() == parquet.Float) {
				continue // for integers alone
			}
			for _, codec := range codecs {
				for _, version := range []int{1, 2} {
					for _, optional := range []bool{false, true} {
						node := parquet.Compressed(parquet.Encoded(parquet.Leaf(typ), e), codec)
						if optional {
							node = parquet.Optional(node)
						}
						what := fmt.Sprintf("%s %s %s version %d optional %t", typ, e, codec, version, optional)
						data := foreign(t, node, values, parquet.DataPageVersion(version), parquet.PageBufferSize(512))
						got, err := ForeignNumbers(data, "x", 300)
						if err != nil || !equal(got, want) {
							t.Errorf("%s: %d values, %v", what, len(got), err)
						}
						if _, err := ForeignNumbers(data, "x", 299); err == nil || err.Error() != "more than 299 values" {
							t.Errorf("%s: 299 wanted, error %v", what, err)
						}
						tried++
					}
				}
			}
		}
	}
	if tried < 200 {
		t.Errorf("only %d combinations", tried)
	}
}

func equal(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func TestForeignColumns(t *testing.T) {
	values, _ := valuesOf(parquet.Double)
	data := foreign(t, parquet.Leaf(parquet.DoubleType), values)
	if got, err := ForeignColumns(data); err != nil || strings.Join(got, " ") != "a_text nested x" {
		t.Errorf("%v, %v", got, err)
	}
	for _, name := range []string{"a_text", "nested", "y"} {
		if _, err := ForeignNumbers(data, name, 1000); err == nil || err.Error() != "no flat column of numbers" {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// Integers without a sign are read as such; what stands for times or decimals is no number.
func TestForeignAnnotations(t *testing.T) {
	one := []parquet.Value{parquet.Int32Value(-2)}
	long := []parquet.Value{parquet.Int64Value(-1024)}
	for _, c := range []struct {
		node   parquet.Node
		values []parquet.Value
		want   float64 // NaN: refused
	}{
		{parquet.Uint(32), one, math.MaxUint32 - 1},
		{parquet.Int(32), one, -2},
		{parquet.Int(8), one, -2},
		{parquet.Uint(64), long, math.MaxUint64 - 1023},
		{parquet.Int(64), long, -1024},
		{parquet.Timestamp(parquet.Millisecond), long, nan},
		{parquet.Date(), one, nan},
		{parquet.Decimal(2, 9, parquet.Int32Type), one, nan},
		{parquet.Repeated(parquet.Leaf(parquet.Int32Type)), one, nan},
	} {
		got, err := ForeignNumbers(foreign(t, c.node, c.values), "x", 10)
		if refused := err != nil; refused != (c.want != c.want) || !refused && (len(got) != 1 || got[0] != c.want) {
			t.Errorf("%s: %v, %v, want %v", c.node, got, err, c.want)
		}
	}
}

func TestForeignRefusesWhatIsNoNumber(t *testing.T) {
	optional := parquet.Optional(parquet.Leaf(parquet.DoubleType))
	for _, v := range []parquet.Value{parquet.NullValue(), parquet.DoubleValue(nan), parquet.DoubleValue(math.Inf(1))} {
		for _, version := range []int{1, 2} {
			values := []parquet.Value{parquet.DoubleValue(1), parquet.DoubleValue(2), parquet.DoubleValue(3), v, parquet.DoubleValue(5)}
			data := foreign(t, optional, values, parquet.DataPageVersion(version))
			if _, err := ForeignNumbers(data, "x", 10); err == nil || err.Error() != "row 4 is empty or no finite number" {
				t.Errorf("%v: error %v", v, err)
			}
		}
	}
}

// Every cut and every flipped byte of a file is an error or leaves the numbers as they are, unless it lies in a page without
// checksum; nothing panics.
func TestForeignDamaged(t *testing.T) {
	values, want := valuesOf(parquet.Double)
	data := foreign(t, parquet.Leaf(parquet.DoubleType), values[:40])
	for i := range data {
		if _, err := ForeignNumbers(data[:i], "x", 100); !errors.Is(err, errForeign) {
			t.Errorf("cut at %d: error %v", i, err)
		}
		bad := bytes.Clone(data)
		bad[i] ^= 0xff
		if got, err := ForeignNumbers(bad, "x", 100); err == nil && !equal(got, want[:40]) {
			t.Errorf("flip at %d: %v", i, got)
		}
	}
}
