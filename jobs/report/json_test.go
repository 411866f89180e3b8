package report

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode"
)

// A stranger's text comes back from JSON unchanged, and nothing raw in it steers a
// terminal: C0 and C1 controls, directions, joiners, tags beyond 16 bits.
func TestJSONIsPrintable(t *testing.T) {
	text := "plain \u00e9 \u96fb \U0001f50b <a&b> \x00\x1b[31m\x7f\u0085\u009b\u200b\u200e\u202e\u2066\u2028\ufeff\U000e0041\r\n\t"
	var b bytes.Buffer
	if err := WriteJSON(&b, map[string][]string{"s": {text}}); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			t.Errorf("%U stands raw in %q", r, b.String())
		}
	}
	if !strings.Contains(b.String(), "plain \u00e9 \u96fb \U0001f50b") {
		t.Errorf("letters are escaped: %s", b.String())
	}
	var back map[string][]string
	if err := json.Unmarshal(b.Bytes(), &back); err != nil || !reflect.DeepEqual(back, map[string][]string{"s": {text}}) {
		t.Errorf("read back %q, %v", back, err)
	}
}
