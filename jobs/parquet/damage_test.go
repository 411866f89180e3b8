package parquet

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"
)

// Every single flipped byte and every truncation of a table either is an error or (in the few bytes of a page header that
// nothing is read from, and in the page index, which is for other readers) changes nothing; it never gives other values.
func TestDamagedTable(t *testing.T) {
	want := bitsOf(sample())
	whole, err := Encode(sample())
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	try := func(what string, at int, data []byte) {
		got, err := ReadTable(bytes.NewReader(data), int64(len(data)))
		switch {
		case err != nil && !errors.Is(err, ErrDamaged):
			t.Errorf("%s %d: error %v", what, at, err)
		case err != nil:
			refused++
		case !reflect.DeepEqual(bitsOf(got), want):
			t.Errorf("%s %d: other values", what, at)
		}
	}
	for i := range whole {
		for _, flip := range []byte{0x01, 0x80, 0xff} {
			bad := bytes.Clone(whole)
			bad[i] ^= flip
			try("flip", i, bad)
		}
	}
	if all := 3 * len(whole); refused < all*8/10 {
		t.Errorf("%d of %d flips were refused", refused, all)
	}
	refused = 0
	for i := range whole {
		try("cut", i, whole[:i])
	}
	if refused != len(whole) {
		t.Errorf("%d of %d cuts were refused", refused, len(whole))
	}
}

// A footer behind a right checksum that would exhaust stack or memory is refused for it.
func TestFooterIsBounded(t *testing.T) {
	for want, footer := range map[string][]byte{
		"nested deeper than 16":          bytes.Repeat([]byte{0x1c}, maxFooterBytes),
		"nested deeper than  16":         bytes.Repeat([]byte{0x19}, maxFooterBytes),
		"a list of 2147483647":           {0x29, 0xfc, 0xff, 0xff, 0xff, 0xff, 0x07, 0},
		"it ends too early":              {0x18, 9, 'a'},
		"a number does not end":          {0x15, 0x80},
		"a value of type 11":             {0x1b, 0},
		"1 bytes after the footer's end": {0, 0},
		"missing required field":         {0},
	} {
		_, err := parseFooter(footer, 4)
		if want = strings.ReplaceAll(want, "  ", " "); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %.200v", want, err)
		}
	}
}
