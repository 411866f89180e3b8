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
	w := &writer{id: html.EscapeString(name)}
	fmt.Fprintf(w, `<svg role="img" viewBox="0 0 %s %s" aria-labelledby="%s-t %s-d">`, number(s.Width), number(s.Height), w.id, w.id)
	return w.scene(s)
}

// File writes the scene as a file of its own, so many units wide as width says ("160mm",
// "1920"), its inks as these colours on their ground.
func (s *Scene) File(name string, colours Palette, width, height string) string {
	w := &writer{id: html.EscapeString(name), colours: colours}
	fmt.Fprintf(w, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" role="img" width="%s" height="%s" viewBox="0 0 %s %s" aria-labelledby="%s-t %s-d" font-family="Carlito, Calibri, 'Noto Sans', 'Liberation Sans', 'DejaVu Sans', sans-serif" font-size="%s">`,
		width, height, number(s.Width), number(s.Height), w.id, w.id, number(TextSize))
	ground := &Path{Points: []Point{{0, 0}, {s.Width, 0}, {s.Width, s.Height}, {0, s.Height}}, Closed: true, Fill: Ground}
	whole := *s
	whole.Shapes = append([]any{ground}, s.Shapes...)
	return w.scene(&whole)
}

// A writer writes shapes, with classes in place of colours where it has no colours.
type writer struct {
	strings.Builder
	id      string
	colours Palette
}

// scene writes title, description and shapes, and closes the drawing.
func (w *writer) scene(s *Scene) string {
	fmt.Fprintf(w, `<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, w.id, html.EscapeString(s.Title), w.id, html.EscapeString(s.About))
	if pitch := s.hatched(); pitch > 0 {
		fmt.Fprintf(w, `<defs><pattern id="%s-h" width="%[2]s" height="%[2]s" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path%[3]s d="M0 0V%[2]s" stroke-width="%[4]s"/></pattern></defs>`,
			w.id, number(pitch), w.inks(None, Rule, true), number(pitch/hatchPitch))
	}
	for _, shape := range s.Shapes {
		switch shape := shape.(type) {
		case *Path:
			w.path(shape)
		case *Circle:
			w.circle(shape)
		case *Dots:
			w.dots(shape)
		case *Text:
			w.text(shape)
		}
	}
	w.WriteString("</svg>\n")
	return w.String()
}

// hatched is the pitch of the scene's hatches, 0 if there are none.
func (s *Scene) hatched() float64 {
	for _, shape := range s.Shapes {
		if p, ok := shape.(*Path); ok && p.Hatch {
			return hatchOf(p)
		}
	}
	return 0
}

// number writes a coordinate with two decimals at most; what is not finite becomes 0.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		x = 0
	}
	x = math.Round(x*100) / 100
	return strconv.FormatFloat(x+0, 'f', -1, 64)
}

func (w *writer) path(p *Path) {
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
	w.WriteString(`<path` + w.inks(p.Fill, p.Stroke, p.Hatch) + ` d="` + d.String() + `"`)
	if p.Hatch {
		w.WriteString(` fill="url(#` + w.id + `-h)"`)
	}
	if p.Stroke != None && p.Width != 1 {
		w.WriteString(` stroke-width="` + number(p.Width) + `"`)
	}
	if p.Dash > 0 {
		w.WriteString(` stroke-dasharray="` + number(p.Dash) + ` ` + number(0.6*p.Dash) + `"`)
	}
	w.finish(p.Tip)
}

func (w *writer) circle(c *Circle) {
	w.WriteString(`<circle` + w.inks(c.Fill, c.Stroke, false) + ` cx="` + number(c.At.X) + `" cy="` + number(c.At.Y) + `" r="` + number(c.Radius) + `"`)
	if c.Stroke != None && c.Width != 1 {
		w.WriteString(` stroke-width="` + number(c.Width) + `"`)
	}
	w.finish(c.Tip)
}

// dots are the round ends of lines without length: a fifth of the bytes of as many circles.
func (w *writer) dots(d *Dots) {
	w.WriteString(`<path` + w.inks(None, d.Ink, false) + ` stroke-linecap="round" stroke-width="` + number(2*d.Radius) + `" d="`)
	for _, p := range d.At {
		w.WriteString("M" + number(p.X) + " " + number(p.Y) + "h0")
	}
	w.WriteString(`"/>`)
}

// finish closes an element; its exact value is an attribute that the page's script may show.
func (w *writer) finish(tip string) {
	if tip != "" && w.colours == nil {
		w.WriteString(` data-v="` + html.EscapeString(tip) + `"`)
	}
	w.WriteString("/>")
}

// inks are the attributes of a shape's fill and line.
func (w *writer) inks(fill, stroke Ink, hatch bool) string {
	if w.colours != nil {
		text := ""
		if fill != None {
			text = ` fill="` + w.colours.hex(fill) + `"`
		} else if !hatch {
			text = ` fill="none"`
		}
		if stroke != None {
			text += ` stroke="` + w.colours.hex(stroke) + `"`
		}
		return text
	}
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

func (w *writer) text(t *Text) {
	w.WriteString("<text" + w.letters(t) + ` x="` + number(t.At.X) + `" y="` + number(t.At.Y) + `"`)
	if t.Anchor != Start && t.Anchor != "" {
		w.WriteString(` text-anchor="` + string(t.Anchor) + `"`)
	}
	if t.Size != TextSize {
		w.WriteString(` font-size="` + number(t.Size) + `"`)
	}
	w.WriteString(">" + html.EscapeString(t.Words) + "</text>")
}

// letters are the attributes of a text's colour and cut.
func (w *writer) letters(t *Text) string {
	if w.colours == nil {
		class := "f-" + string(t.Ink)
		if t.Bold {
			class += " b"
		}
		if t.Italic {
			class += " i"
		}
		return ` class="` + class + `"`
	}
	text := ` fill="` + w.colours.hex(t.Ink) + `"`
	if t.Bold {
		text += ` font-weight="700"`
	}
	if t.Italic {
		text += ` font-style="italic"`
	}
	return text
}
