package record

import (
	"bytes"
	"errors"
	"testing"

	"proofmass/jobs/study/source"
)

// FuzzOutcomes: whatever bytes a file of outcomes has, it is read, or every mistake has a place
// in the file.
func FuzzOutcomes(f *testing.F) {
	for _, seed := range []string{
		"study,name,value,sd,unit,measured_on,guess,guess_sd\nrod,length,1,2,m,2026-05-02,3,4\n",
		"\xef\xbb\xbfname,study,value\n# no\n\"a \"\"b\",c,1e3\n",
		"study,name,value\nrod,\"len\ngth\",1\nrod,x\n", "study\n", "", ",,,\n,,,", "a;b\n", "study,name,value\nä,\"",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := outcomes("o.csv", data)
		if err == nil {
			if len(all) == 0 {
				t.Error("nothing, and no mistake")
			}
			for _, o := range all {
				if o.study == "" || o.name == "" || o.sd < 0 || o.guessSD < 0 || o.value != o.value {
					t.Errorf("taken: %+v", o)
				}
			}
			return
		}
		var wrong source.Errors
		if !errors.As(err, &wrong) {
			t.Fatalf("%T", err)
		}
		for _, w := range wrong {
			if w.File != "o.csv" || w.Line < 0 || w.Line > len(data)+1 || w.Column < 0 || w.Column > len(data)+1 || w.Found == "" {
				t.Errorf("%+v", w)
			}
		}
	})
}

// TestPlacesAreFoundAtOnce: as many outcomes as there can be, behind as many empty lines: counted
// from the first line for every place they would take hours.
func TestPlacesAreFoundAtOnce(t *testing.T) {
	const empty = 3_000_000
	data := append([]byte("study,name,value\n"), bytes.Repeat([]byte("\n"), empty)...)
	data = append(data, bytes.Repeat([]byte("s,\xc3\xa4,1\n"), mostOutcomes)...)
	all, err := outcomes("o.csv", data)
	if err != nil || len(all) != mostOutcomes {
		t.Fatal(len(all), err)
	}
	if last := all[mostOutcomes-1].places["value"]; last.Line != 1+empty+mostOutcomes || last.Column != 5 {
		t.Errorf("the last value stands at %v", last)
	}
}
