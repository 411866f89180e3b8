package source

import (
	"strconv"
	"strings"
	"unicode"
)

// Quote shows a stranger's text within a message: in quotation marks, shortened,
// and with nothing that a terminal would obey.
func Quote(text string) string { return `"` + Printable(text, 60) + `"` }

// Printable escapes what cannot be shown and shortens text to limit characters.
func Printable(text string, limit int) string {
	var b strings.Builder
	n := 0
	for _, r := range text {
		if n == limit {
			b.WriteString("...")
			break
		}
		n++
		if unicode.IsPrint(r) {
			b.WriteRune(r)
		} else {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
		}
	}
	return b.String()
}

// Listed joins words as a reader would: "a, b or c".
func Listed(words []string, last string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}
