package uncertain

import (
	"strings"
	"testing"

	"proofmass/jobs/internal/cost"
)

// A CSV file of 16 MiB that consists of one thing takes little memory, whether it is read or refused.
func TestHostileCSV(t *testing.T) {
	const size = 16<<20 - 100
	wide := strings.Repeat(",", size)
	quotes := strings.Repeat("\"\n\"", size/3)
	for name, c := range map[string]struct{ text, want string }{
		"a million columns":         {wide, "line 1: more than 65536 columns"},
		"a million columns below":   {"x\n" + wide, "line 2: more than 65536 columns"},
		"behind a comment":          {"# \"\n#,\nx\n\"" + strings.Repeat(",", size/2) + "\"" + wide[:size/2-20], "line 4: more than 65536 columns"},
		"columns on many lines":     {"x\n" + strings.Repeat("\"\n\",", size/4), "line 65538: more than 65536 columns"},
		"one endless line":          {strings.Repeat("x", size), `no column "x"; there are xxx`},
		"one endless quote":         {"x\n\"" + strings.Repeat("\n", size-4), "no CSV"},
		"one endless quoted number": {"x\n" + quotes, "is no number"},
		"one endless number":        {"x\n" + strings.Repeat("1", size-2), "is no number"},
		"a million numbers more":    {"x\n" + strings.Repeat("1\n", maxValues+1), "more than 1000000 values"},
		"nothing but line ends":     {"x" + strings.Repeat("\n", size-1), "no values in column"},
		"nothing but comments":      {strings.Repeat("#\n", size/2), "has no first line"},
		"a comment that ends not":   {"x\n1\n#" + strings.Repeat(",", size-10), ""},
	} {
		data := []byte(c.text)
		var err error
		used, _ := cost.Of(func() { _, err = csvColumn(data, "x") })
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: error %.200v, want %s", name, err, c.want)
		}
		if err != nil && len(err.Error()) > 500 {
			t.Errorf("%s: an error of %d bytes", name, len(err.Error()))
		}
		if used > 150<<20 {
			t.Errorf("%s: %d MB allocated", name, used>>20)
		}
	}
}
