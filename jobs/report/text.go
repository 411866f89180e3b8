package report

import (
	"fmt"
	"io"
	"regexp"
	"strings"
)

// Widths of a terminal in columns: what is common, and the limits of what lines use.
const usualWidth, leastWidth, mostWidth = 80, 60, 120

// TextOptions say how an answer is told at a terminal.
type TextOptions struct {
	Folder string // in which the result lies
	Page   string // where it is drawn on a page, "" if it is not
	Width  int    // columns; 0: 80
	Full   bool   // all there is to tell, not the short answer
}

// Text writes the answer for a terminal: the short one, of about 40 lines, or all of it.
func (a *Answer) Text(out io.Writer, o TextOptions) error {
	a = a.Shown()
	b := &page{width: LineWidth(o.Width)}
	if !o.Full {
		a.short(b, o)
	} else if a.full(b, o); o.Page != "" {
		b.under("On a page: ", quoted(o.Page)+".")
	}
	_, err := io.WriteString(out, withGaps(b.String()))
	return err
}

// gap is a blank line between claims, which their indents set apart too. A stranger's text
// holds no such character.
const gap = "\v\n"

// spare stands before and behind a line that is told where there is room for it.
const spare = "\f"

var spared = regexp.MustCompile(spare + "[^" + spare + "]*" + spare)

// withGaps keeps blank lines, and those that are told where there is room, as far as there is:
// a line out of sight is worse than none.
func withGaps(text string) string {
	if !strings.ContainsAny(text, gap[:1]+spare) {
		return text
	}
	told, fewer := strings.ReplaceAll(text, spare, ""), spared.ReplaceAllString(text, "")
	for _, text := range []string{strings.ReplaceAll(told, gap, "\n"), strings.ReplaceAll(told, gap, ""), strings.ReplaceAll(fewer, gap, "")} {
		if strings.Count(text, "\n") <= mostShort {
			return text
		}
	}
	return strings.ReplaceAll(strings.ReplaceAll(fewer, gap, ""), "\n\n", "\n")
}

// LineWidth is how wide lines are on a terminal of so many columns, 0 where nobody knows.
func LineWidth(columns int) int {
	if columns == 0 {
		return usualWidth
	}
	return min(mostWidth, max(leastWidth, columns))
}

// mostShort is how many lines the short answer has at most, as far as leaving out blank ones
// brings it there.
const mostShort = 40

// verdictsRead says in both answers how a verdict is read.
const verdictsRead = "Stands: in at least 19 of 20 draws. Falls: in at most 1 of 20. In brackets: what the widths that are but guesses do to the chance when all are halved and doubled, by draws of their own, then the chance and its interval by sampling error alone."

// A page is text in lines of a width.
type page struct {
	strings.Builder
	width int
}

// para adds a paragraph, each line behind indent.
func (b *page) para(text, indent string) { b.WriteString(Wrap(text, indent, b.width)) }

// item adds an item of a list.
func (b *page) item(text string) {
	b.WriteString("  - " + strings.TrimLeft(Wrap(text, "    ", b.width), " "))
}

// labelled adds a paragraph behind its label, which stands two blanks in.
func (b *page) labelled(label string, column int, text string) { b.behind("  "+label, column, text) }

// behind adds a paragraph at a column, behind what stands before it.
func (b *page) behind(head string, column int, text string) {
	fmt.Fprintf(b, "%-*s%s", column, head, strings.TrimLeft(Wrap(text, strings.Repeat(" ", column), b.width), " "))
}

// under adds a paragraph behind a head, its further lines two columns in.
func (b *page) under(head, text string) {
	b.WriteString(strings.TrimPrefix(Wrap(head+text, "  ", b.width), "  "))
}
