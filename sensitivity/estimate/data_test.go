package estimate

import (
	"bufio"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

const data = "../../testdata/sensitivity"

// table reads a CSV file with a header, without its comment lines.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(data, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// column reads a file of one number a line.
func column(t *testing.T, name string) []float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(data, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var v []float64
	for s := bufio.NewScanner(f); s.Scan(); {
		if s.Text()[0] != '#' {
			v = append(v, number(t, s.Text()))
		}
	}
	return v
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func whole(t *testing.T, text string) int {
	t.Helper()
	x, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// equal cuts n rows into replicates that differ by one row at most.
func equal(n, replicates int) Rows {
	b := make([]int, replicates+1)
	for r := range b {
		b[r] = n * r / replicates
	}
	return Rows{Bounds: b}
}
