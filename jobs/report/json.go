package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// WriteJSON writes a value as indented JSON in which a stranger's text can neither steer a
// terminal nor turn the order of what is read: control characters and invisible ones that
// set directions are escaped. Whoever parses it gets the text unchanged.
func WriteJSON(out io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := out.Write(escaped(b.Bytes()))
	return err
}

// escaped escapes what Printable drops. Outside strings JSON has none of it but the
// breaks between lines.
func escaped(text []byte) []byte {
	kept := make([]byte, 0, len(text))
	for _, r := range string(text) {
		switch {
		case r == '\n' || !unicode.IsControl(r) && !unicode.Is(unicode.Cf, r):
			kept = utf8.AppendRune(kept, r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			kept = fmt.Appendf(kept, `\u%04x\u%04x`, high, low)
		default:
			kept = fmt.Appendf(kept, `\u%04x`, r)
		}
	}
	return kept
}
