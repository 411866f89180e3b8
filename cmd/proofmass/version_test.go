package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

func TestVersionNotices(t *testing.T) {
	var out, errOut bytes.Buffer
	if code := proofmass(context.Background(), []string{"version", "--notices"}, &out, &errOut); code != exitDone || errOut.Len() > 0 {
		t.Fatalf("exit code %d, %s", code, errOut.String())
	}
	for _, want := range []string{"Frances Y. Kuo and Stephen Joe", "Sun Microsystems", "gonum.org/v1/gonum"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q", want)
		}
	}
}
