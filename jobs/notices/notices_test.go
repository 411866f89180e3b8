package notices_test

import (
	"os"
	"strings"
	"testing"

	"proofmass/jobs/notices"
)

// Every module of go.mod is named with its licence, and both notices are whole.
func TestNoticesNameEveryModule(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	text, count := notices.Text(), 0
	for line := range strings.Lines(string(mod)) {
		f := strings.Fields(strings.TrimPrefix(line, "require "))
		if len(f) < 2 || !strings.Contains(f[0], "/") || !strings.HasPrefix(f[1], "v") {
			continue
		}
		count++
		if !strings.Contains(text, "  "+f[0]+" ") {
			t.Errorf("%s is not named", f[0])
		}
	}
	if count < 5 {
		t.Errorf("found %d modules in go.mod: the test reads it wrongly", count)
	}
	for _, want := range []string{"Copyright (c) 2008, Frances Y. Kuo and Stephen Joe", "Redistributions in binary form must reproduce", "POSSIBILITY OF SUCH DAMAGE", "Sun Microsystems, Inc. All rights reserved"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}
