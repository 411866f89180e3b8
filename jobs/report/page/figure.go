package page

import (
	"bytes"
	"fmt"
	"html/template"
	"slices"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// A frame is what a scene is laid out for.
type frame struct {
	width float64 // in drawing units
	rows  int     // at most so many: what has more is summed up in one
	talk  bool    // large, for a talk
}

// Both drawings of a figure stand in the page: which one is shown hangs on its width.
var onWide, onNarrow = frame{width: 720, rows: 8}, frame{width: 350, rows: 8}

// leastWide is the width from which names have room beside the marks.
const leastWide = 500

func (f frame) narrow() bool { return f.width < leastWide }

// names is the room for names left of the marks, less a gap; narrow, where left is 0, they
// have a line of their own.
func (f frame) names(left, gap float64) float64 {
	if f.narrow() {
		return f.width
	}
	return left - gap
}

// A picture is a figure before it is set: what it shows, of whom, and its numbers.
type picture struct {
	Kind, Subject string // its name is made of both
	Caption       template.HTML
	From          string // tables and rows
	Note          string // how to read it
	Numbers       numbers
	Scene         func(frame) *draw.Scene
	Parts         []func(frame) *draw.Scene // of which each fills a picture for a talk; none: the whole does
}

// parts cuts what a scene shows into parts of so many each.
func parts[T any](all []T, each int, scene func([]T, frame) *draw.Scene) []func(frame) *draw.Scene {
	var cut []func(frame) *draw.Scene
	for chunk := range slices.Chunk(all, each) {
		cut = append(cut, func(f frame) *draw.Scene { return scene(chunk, f) })
	}
	return cut
}

// A figure is a drawing in two widths with its numbers.
type figure struct {
	Name    string // for ids
	Number  int
	Caption template.HTML
	Wide    template.HTML
	Narrow  template.HTML
	Foot    string
	From    string // tables and rows
	Numbers numbers
	Note    string // how to read it, beside the first figure of a kind
}

// numbers is a table: a head, rows, and which columns hold numbers.
type numbers struct {
	Head []string
	Rows [][]string
	Left int // so many columns, from the left, hold words
}

var figureHTML = template.Must(template.New("figure").Parse(`<figure id="{{.Name}}">
<figcaption><b>Figure&nbsp;{{.Number}}.</b> {{.Caption}}</figcaption>
{{- if .Note}}<p class="note"><b>How to read it.</b> {{.Note}}</p>{{end}}
<div class="wide" tabindex="-1">{{.Wide}}</div>
<div class="narrow" tabindex="-1">{{.Narrow}}</div>
<p class="foot"><span>{{.Foot}}</span><span class="value" role="status"></span><span>from <i>{{.From}}</i></span></p>
<details><summary>The numbers of figure {{.Number}}</summary>
{{template "numbers" .Numbers}}</details>
</figure>
`))

func init() { template.Must(figureHTML.New("numbers").Parse(numbersText)) }

const numbersText = `<div class="scroll" role="region" aria-label="numbers" tabindex="0"><table><thead><tr>{{range .Head}}<th scope="col">{{.}}</th>{{end}}</tr></thead>
<tbody>{{$left := .Left}}{{range .Rows}}<tr>{{range $i, $cell := .}}{{if eq $i 0}}<th scope="row">{{$cell}}</th>{{else if lt $i $left}}<td class="words">{{$cell}}</td>{{else}}<td>{{$cell}}</td>{{end}}{{end}}</tr>
{{end}}</tbody></table></div>`

// kind of figure and its note, given once a page.
func (d *data) note(kind, text string) string {
	if d.noted[kind] {
		return ""
	}
	d.noted[kind] = true
	return text
}

// figure draws a picture in both widths and sets it.
func (d *data) figure(p picture) template.HTML {
	d.figures++
	d.pictures = append(d.pictures, p)
	name := fmt.Sprintf("f%d-%s", d.figures, p.Kind)
	return render(figureHTML, figure{Name: name, Number: d.figures, Caption: p.Caption, Foot: d.foot(), From: p.From, Note: p.Note, Numbers: p.Numbers,
		Wide: template.HTML(p.Scene(onWide).SVG(name + "-w")), Narrow: template.HTML(p.Scene(onNarrow).SVG(name + "-n"))})
}

// elsewhere says where the same stands of those that are not shown, "" where all are.
func elsewhere(left int, what, where string) string {
	if left <= 0 {
		return ""
	}
	return fmt.Sprintf("<p>The same of %s stands in %s.</p>\n", report.Counted(left, what), where)
}

// render executes a template whose data cannot fail it.
func render(t *template.Template, data any) template.HTML {
	var b bytes.Buffer
	if err := t.Execute(&b, data); err != nil {
		return template.HTML("<p>" + template.HTMLEscapeString(err.Error()) + "</p>")
	}
	return template.HTML(b.String())
}
