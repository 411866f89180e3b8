package page

import (
	"bytes"
	"fmt"
	"html/template"

	"proofmass/jobs/report/draw"
)

// Widths of the two drawings of a figure, in drawing units: which one is shown hangs on
// the width of the page.
const wide, narrow = 720.0, 350.0

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
	if d.read[kind] {
		return ""
	}
	d.read[kind] = true
	return text
}

// figure draws a scene in both widths and sets it.
func (d *data) figure(name string, caption template.HTML, from, note string, n numbers, scene func(width float64) *draw.Scene) template.HTML {
	d.figures++
	name = fmt.Sprintf("f%d-%s", d.figures, name)
	return render(figureHTML, figure{Name: name, Number: d.figures, Caption: caption, Foot: d.foot(), From: from, Note: note, Numbers: n,
		Wide: template.HTML(scene(wide).SVG(name + "-w")), Narrow: template.HTML(scene(narrow).SVG(name + "-n"))})
}

// render executes a template whose data cannot fail it.
func render(t *template.Template, data any) template.HTML {
	var b bytes.Buffer
	if err := t.Execute(&b, data); err != nil {
		return template.HTML("<p>" + template.HTMLEscapeString(err.Error()) + "</p>")
	}
	return template.HTML(b.String())
}
