package study

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// FuzzRead holds the reader to its promise on any bytes: no panic, and either a
// study or at least one mistake with a message.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("../../testdata/wrong/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(packStudy))
	f.Add([]byte(formulaStudy))
	f.Add([]byte(factsStudy))
	f.Add([]byte(groupStudy))
	f.Add([]byte(groupFormulas))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := readBytes("fuzz.yaml", data, Options{})
		var all Errors
		switch {
		case err == nil && s == nil:
			t.Error("neither a study nor an error")
		case err != nil && (!errors.As(err, &all) || len(all) == 0 || all[0].Found == ""):
			t.Errorf("error is %#v, want Errors", err)
		}
	})
}
