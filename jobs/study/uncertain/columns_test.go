package uncertain

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"

	"proofmass/jobs/internal/cost"
)

func TestParquetColumn(t *testing.T) {
	type row struct {
		Mass  float64  `parquet:"mass"`
		Count int32    `parquet:"count"`
		Small float32  `parquet:"small"`
		Word  string   `parquet:"word"`
		Gap   *float64 `parquet:"gap,optional"`
		List  []int64  `parquet:"list"`
	}
	half := 0.5
	var b bytes.Buffer
	if err := parquet.Write(&b, []row{{1.5, 7, 0.25, "x", &half, []int64{1, 2}}, {2.5, 8, 0.5, "y", nil, nil}}); err != nil {
		t.Fatal(err)
	}
	for column, want := range map[string][2]float64{"mass": {1.5, 2.5}, "count": {7, 8}, "small": {0.25, 0.5}} {
		x, err := parquetColumn(b.Bytes(), column)
		if err != nil || len(x) != 2 || [2]float64(x) != want {
			t.Errorf("%s: %v, %v; want %v", column, x, err, want)
		}
	}
	for column, want := range map[string]string{
		"word": `column "word": no flat column of numbers`, "list": `column "list": no flat column of numbers`,
		"gap": `column "gap": row 2 is empty or no finite number`, "masss": `no column "masss"; did you mean "mass"?`,
	} {
		if _, err := parquetColumn(b.Bytes(), column); err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", column, err, want)
		}
	}
	for _, cut := range []int{0, 3, 40, b.Len() - 5} {
		if _, err := parquetColumn(b.Bytes()[:cut], "mass"); err == nil {
			t.Errorf("the first %d bytes pass for a file", cut)
		}
	}
}

// FuzzParquetColumn and FuzzCSVColumn: any bytes give finite numbers or an error, at little cost.
func FuzzParquetColumn(f *testing.F) {
	type row struct {
		Mass float64 `parquet:"mass"`
		Gap  *int32  `parquet:"gap,optional,snappy"`
	}
	var b bytes.Buffer
	if err := parquet.Write(&b, []row{{1.5, nil}, {2.5, nil}}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes(), "mass")
	f.Add(b.Bytes(), "gap")
	f.Fuzz(func(t *testing.T, data []byte, column string) { checkColumn(t, parquetColumn, data, column) })
}

func FuzzCSVColumn(f *testing.F) {
	f.Add([]byte("a,b\n1,2\n"), "b")
	f.Add([]byte("\xef\xbb\xbf\"a\"\n1e999\n"), "a")
	for _, text := range []string{"# c\ny, x\n1,2\n", "\"x\",\"a\nb\"\n1,2\n", "x\n" + strings.Repeat(",", 70_000), "x\n1,\"\n\n"} {
		f.Add([]byte(text), "x")
	}
	f.Fuzz(func(t *testing.T, data []byte, column string) { checkColumn(t, csvColumn, data, column) })
}

func checkColumn(t *testing.T, read func([]byte, string) ([]float64, error), data []byte, column string) {
	t.Helper()
	var x []float64
	var err error
	if used, took := cost.Of(func() { x, err = read(data, column) }); used > 150<<20 || took > 10*time.Second {
		t.Fatalf("%d MB allocated in %v", used>>20, took)
	}
	if (err == nil) != (len(x) > 0) || err != nil && strings.Contains(err.Error(), "\n") {
		t.Fatalf("%d values and %v", len(x), err)
	}
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%v", v)
		}
	}
}
