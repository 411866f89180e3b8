package draw

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// SVG writes the scene as an element for a page whose style sheet knows the inks: classes
// f-INK fill, s-INK draw a line. The name makes ids unique in the page. Nothing of a text
// becomes markup; the same scene gives the same bytes.
func (s *Scene) SVG(name string) string {
	var b strings.Builder
	id := html.EscapeString(name)
	fmt.Fprintf(&b, `<svg role="img" viewBox="0 0 %s %s" aria-labelledby="%s-t %s-d"><title id="%s-t">%s</title><desc id="%s-d">%s</desc>`,
		number(s.Width), number(s.Height), id, id, id, html.EscapeString(s.Title), id, html.EscapeString(s.About))
	if s.hatched() {
		fmt.Fprintf(&b, `<defs><pattern id="%s-h" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="s-rule" d="M0 0V5" stroke-width="1"/></pattern></defs>`, id)
	}
	for _, shape := range s.Shapes {
		switch shape := shape.(type) {
		case *Path:
			shape.write(&b, id)
		case *Circle:
			shape.write(&b)
		case *Text:
			shape.write(&b)
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func (s *Scene) hatched() bool {
	for _, shape := range s.Shapes {
		if p, ok := shape.(*Path); ok && p.Hatch {
			return true
		}
	}
	return false
}

// number writes a coordinate with two decimals at most; what is not finite becomes 0.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		x = 0
	}
	x = math.Round(x*100) / 100
	return strconv.FormatFloat(x+0, 'f', -1, 64)
}

func (p *Path) write(b *strings.Builder, id string) {
	var d strings.Builder
	for i, q := range p.Points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		d.WriteString(letter + number(q.X) + " " + number(q.Y))
	}
	if p.Closed {
		d.WriteString("Z")
	}
	b.WriteString(`<path` + classes(p.Fill, p.Stroke, p.Hatch) + ` d="` + d.String() + `"`)
	if p.Hatch {
		b.WriteString(` fill="url(#` + id + `-h)"`)
	}
	if p.Stroke != None && p.Width != 1 {
		b.WriteString(` stroke-width="` + number(p.Width) + `"`)
	}
	if p.Dashed {
		b.WriteString(` stroke-dasharray="5 3"`)
	}
	finish(b, "path", p.Tip)
}

func (c *Circle) write(b *strings.Builder) {
	b.WriteString(`<circle` + classes(c.Fill, c.Stroke, false) + ` cx="` + number(c.At.X) + `" cy="` + number(c.At.Y) + `" r="` + number(c.Radius) + `"`)
	if c.Stroke != None && c.Width != 1 {
		b.WriteString(` stroke-width="` + number(c.Width) + `"`)
	}
	finish(b, "circle", c.Tip)
}

// finish closes an element; its exact value is an attribute that a script may show.
func finish(b *strings.Builder, element, tip string) {
	if tip != "" {
		b.WriteString(` data-v="` + html.EscapeString(tip) + `"`)
	}
	b.WriteString("/>")
}

func classes(fill, stroke Ink, hatch bool) string {
	var all []string
	if fill != None {
		all = append(all, "f-"+string(fill))
	} else if !hatch {
		all = append(all, "f-none")
	}
	if stroke != None {
		all = append(all, "s-"+string(stroke))
	}
	if len(all) == 0 {
		return ""
	}
	return ` class="` + strings.Join(all, " ") + `"`
}

func (t *Text) write(b *strings.Builder) {
	class := "f-" + string(t.Ink)
	if t.Bold {
		class += " b"
	}
	if t.Italic {
		class += " i"
	}
	b.WriteString(`<text class="` + class + `" x="` + number(t.At.X) + `" y="` + number(t.At.Y) + `"`)
	if t.Anchor != Start && t.Anchor != "" {
		b.WriteString(` text-anchor="` + string(t.Anchor) + `"`)
	}
	if t.Size != TextSize {
		b.WriteString(` font-size="` + number(t.Size) + `"`)
	}
	b.WriteString(">" + html.EscapeString(t.Words) + "</text>")
}
