package record

import (
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
