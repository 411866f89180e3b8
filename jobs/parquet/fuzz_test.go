package parquet

import (
	"bytes"
	"encoding/binary"
	"testing"
)

// The footer is fuzzed behind its checksum, which random bytes would never pass.
func FuzzFooter(f *testing.F) {
	for _, t := range []*Table{sample(), {Columns: []Column{{Name: "a", Texts: []string{}}}}} {
		image, err := Encode(t)
		if err != nil {
			f.Fatal(err)
		}
		n := int(binary.LittleEndian.Uint32(image[len(image)-8:]))
		f.Add(image[len(image)-8-n:len(image)-8], int64(len(image)-8-n-4))
	}
	f.Add(bytes.Repeat([]byte{0x1c}, 1000), int64(4)) // structures in structures
	f.Add([]byte{0x29, 0xfc, 0xff, 0xff, 0xff, 0x07}, int64(4))
	f.Fuzz(func(t *testing.T, footer []byte, end int64) {
		l, err := parseFooter(footer, end)
		if err == nil && (len(l.fields) == 0 || l.rows > MaxRows || l.rows > 0 && len(l.chunks) != len(l.fields)) {
			t.Errorf("%+v", l)
		}
	})
}

func FuzzPage(f *testing.F) {
	image, err := Encode(sample())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(image[4:200], uint16(19), uint8(0), true)
	f.Add([]byte{2, 0, 0, 0, 38, 0}, uint16(19), uint8(0), true)
	f.Add([]byte{1, 0, 0, 0, 65}, uint16(1), uint8(3), false)
	f.Fuzz(func(t *testing.T, body []byte, rows uint16, k uint8, nullable bool) {
		l := &File{fields: []field{{kind: Kind(k % 5), nullable: nullable}}, rows: int(rows)}
		if got, err := l.appendNumbers(nil, 0, body); err == nil && len(got) != int(rows) {
			t.Errorf("%d values for %d rows", len(got), rows)
		}
		if got, err := parseTexts(body, int(rows)); err == nil && len(got) != int(rows) {
			t.Errorf("%d texts for %d rows", len(got), rows)
		}
		l.chunks = []chunk{{0, int64(len(body))}}
		var buffer []byte
		_, _ = l.page(bytes.NewReader(body), 0, &buffer)
	})
}
