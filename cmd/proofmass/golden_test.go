package main

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

var update = flag.Bool("update", false, "write what the commands print to testdata/golden instead of comparing it")

// What a reader gets of two small studies stands in files, so that a change of it is
// looked at line by line. If a change is meant:
//
//	go test ./cmd/proofmass -run Golden -update
//	git diff cmd/proofmass/testdata/golden
//
// JSON is compared to seven digits, since statistics may differ in the last bits from
// architecture to architecture; of check the forecast of time, memory and disk is left out.
func TestGolden(t *testing.T) {
	for _, study := range []string{"tank", "cart"} {
		folder := t.TempDir()
		text, err := os.ReadFile(filepath.Join("testdata", "golden", study+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, study+".yaml"), text, 0o666); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			kind string
			args []string
		}{
			{"check.txt", []string{"check", study + ".yaml"}},
			{"short.txt", []string{"run", study + ".yaml", "--out", "result"}},
			{"full.txt", []string{"show", "result", "--full"}},
			{"json", []string{"show", "result", "--json"}},
		} {
			golden(t, filepath.Join("testdata", "golden", study+"."+c.kind), stable(printed(t, folder, c.args)))
		}
	}
}

// printed is what a command prints in a folder.
func printed(t *testing.T, folder string, args []string) []byte {
	t.Helper()
	var out, errOut bytes.Buffer
	c := exec.Command(binary, args...)
	c.Dir, c.Stdout, c.Stderr = folder, &out, &errOut
	if err := c.Run(); err != nil || errOut.Len() > 0 {
		t.Fatalf("%v: %v, %s", args, err, errOut.String())
	}
	return out.Bytes()
}

var (
	forecast = regexp.MustCompile(`(?m)^  About .* of memory, .*\n(    .*\n)*`)
	leaf     = regexp.MustCompile(`\{\s[^{}\[\]]*\}`) // an object of JSON that holds no other
	blanks   = regexp.MustCompile(`\s+`)
	fraction = regexp.MustCompile(`-?\d+\.\d{7,}(e[-+]\d+)?|-?\d\.?\d*e[-+]\d+`)
)

// stable leaves out what differs from machine to machine, and puts each of JSON's
// innermost objects on a line.
func stable(text []byte) []byte {
	text = forecast.ReplaceAll(text, []byte("  About (a forecast)\n"))
	text = leaf.ReplaceAllFunc(text, func(object []byte) []byte { return blanks.ReplaceAll(object, []byte(" ")) })
	return fraction.ReplaceAllFunc(text, func(number []byte) []byte {
		x, err := strconv.ParseFloat(string(number), 64)
		if err != nil {
			return number
		}
		return strconv.AppendFloat(nil, x, 'g', 7, 64)
	})
}

func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, got, 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s: another answer than before; if it is meant: go test ./cmd/proofmass -run Golden -update\n%s", path, firstDifference(got, want))
	}
}

// firstDifference shows the first lines that differ.
func firstDifference(got, want []byte) string {
	g, w := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range max(len(g), len(w)) {
		var a, b []byte
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if !bytes.Equal(a, b) {
			return "line " + strconv.Itoa(i+1) + "\n got " + string(a) + "\nwant " + string(b)
		}
	}
	return ""
}
