package report

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Grouped writes a count with a comma between thousands.
func Grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Count writes a small number in words.
func Count(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// Counted writes a number and its noun, in the singular for one.
func Counted(n int, noun string) string {
	if n == 1 {
		return "one " + noun
	}
	return Count(n) + " " + noun + "s"
}

// Numbered is a number in figures and what it counts, for one and for many.
func Numbered(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Grouped(int64(n)) + " " + many
}

// Listed joins words by commas and a last and.
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// A list of names with commas between them is shortened from so many on, to so many.
const longList, fewNames = 13, 8

var nameList = regexp.MustCompile(fmt.Sprintf(`[A-Za-z_]\w*(?:\.\w+)*(?:, [A-Za-z_]\w*(?:\.\w+)*){%d,}`, longList-1))

// FewNames shortens each long list of names in a text to its first; where says where all stand.
func FewNames(text, where string) string {
	return nameList.ReplaceAllStringFunc(text, func(list string) string {
		names := strings.Split(list, ", ")
		return fmt.Sprintf("%s, and %d more (%s)", strings.Join(names[:fewNames], ", "), len(names)-fewNames, where)
	})
}

// Lines are text in lines of a width.
type Lines struct {
	strings.Builder
	Width int
}

// Para adds a paragraph, each line behind indent.
func (l *Lines) Para(text, indent string) { l.WriteString(Wrap(text, indent, l.Width)) }

// Wrap breaks text into lines of at most width characters, each behind indent.
// Control characters, which a study's text may hold, are dropped.
func Wrap(text, indent string, width int) string {
	var b strings.Builder
	line := 0
	for _, word := range joined(strings.Fields(Printable(text))) {
		switch size := len([]rune(word)); {
		case line == 0:
			b.WriteString(indent + word)
			line = len(indent) + size
		case line+1+size > width:
			b.WriteString("\n" + indent + word)
			line = len(indent) + size
		default:
			b.WriteString(" " + word)
			line += 1 + size
		}
	}
	b.WriteString("\n")
	return b.String()
}

// joined keeps a per cent sign on the line of its number.
func joined(words []string) []string {
	var kept []string
	for _, w := range words {
		if n := len(kept); n > 0 && strings.HasPrefix(w, "%") {
			kept[n-1] += " " + w
		} else {
			kept = append(kept, w)
		}
	}
	return kept
}

// Printable keeps a stranger's text from steering a terminal.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return ' '
		}
		return r
	}, s)
}

// fit shortens a name to n characters.
func fit(s string, n int) string {
	r := []rune(Printable(s))
	if len(r) <= n {
		return string(r)
	}
	return string(r[:n-2]) + ".."
}

// fitName shortens a full name to n characters: from the vehicle first, since what is
// said of it stands behind the point.
func fitName(s string, n int) string {
	vehicle, quantity, found := strings.Cut(Printable(s), ".")
	room := n - len([]rune(quantity)) - 1
	if over := len([]rune(s)) > n; !over || !found || room < 4 {
		return fit(s, n)
	}
	return fit(vehicle, room) + "." + quantity
}

// QuantityName makes words of a quantity's name: "kerb_mass_change" is "change of kerb mass".
func QuantityName(quantity string) string {
	if of, found := strings.CutSuffix(quantity, "_change"); found {
		return "change of " + QuantityName(of)
	}
	if of, found := strings.CutSuffix(quantity, "_difference"); found {
		return "difference of " + QuantityName(of)
	}
	words := strings.Split(quantity, "_")
	for i, word := range words {
		if initials[word] {
			words[i] = strings.ToUpper(word)
		}
	}
	return strings.Join(words, " ")
}

// quantityOf is a full name with its quantity in words: "change of kerb mass, bonded".
func quantityOf(name string) string {
	vehicle, quantity, found := strings.Cut(name, ".")
	if !found {
		return QuantityName(name)
	}
	return QuantityName(quantity) + ", " + vehicle
}

// initials are words of names that are written in capitals in a sentence.
var initials = map[string]bool{"ac": true, "hwfet": true, "nycc": true, "sc03": true, "udds": true, "us06": true, "wltc": true, "wltp": true}
