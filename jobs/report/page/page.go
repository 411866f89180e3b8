// Package page draws report.html: one file that opens from disk and needs nothing else. It
// reads a finished result folder and nothing besides, so that the page can be drawn again
// years later; the same folder gives the same bytes.
//
// The page is a list of sections. A section is one file: the tables it reads, the sentence
// that opens it, its figure with the numbers as a table, and what it says when there is
// nothing. What was said stands above the line, what the draws give hangs below it.
package page

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"path/filepath"
	"strings"

	changes "proofmass/jobs/compare"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/shown"
)

//go:embed page.html page.css page.js
var files embed.FS

var shell = template.Must(template.New("page.html").Funcs(template.FuncMap{"add": func(a, b int) int { return a + b }}).ParseFS(files, "page.html"))

// A section is a part of the page: a short label, the sentence that opens it, and what
// follows.
type section struct {
	ID, Label string
	Heading   template.HTML
	Body      template.HTML
}

// inOrder are the sections in reading order; one that has nothing to show returns false.
var inOrder = []func(*data) (section, bool){changed, first, whatToChoose, verdicts, whatIfOtherwise, howRare, whetherTogether, whatWasMeant, evidence, saidAndDrawn, howLarge, whatMakes, whatAUnitDoes, whatIsInside, whatDecides, whereItHolds, mustBeTrue, measureNext, assumed, howMade, beware}

// data is what the sections read.
type data struct {
	*report.Answer
	folder   string
	manifest *result.Manifest
	summary  []result.SummaryRow
	rows     map[string]*result.SummaryRow // of summary, by output
	units    shown.Units                   // in which numbers are shown
	stored   map[string]string             // units of the samples, by output
	curves   map[string][]result.CurveRow  // of outputs, by output
	inside   []result.InsideRow
	chosen   *result.ChoiceTable // nil without choices

	since *changes.Comparison // with what is compared, nil: with nothing

	model    string // "vehicle" or "formulas"
	figures  int
	pictures []picture       // in the order of the page
	noted    map[string]bool // kinds of figure whose note has been given

	samples *result.Slices // nil until a figure reads draws
}

// Render draws the page of a finished result folder.
func Render(folder string) ([]byte, error) { return RenderSince(folder, nil) }

// render sets sections below an answer.
func (d *data) render(answer string, shown []section) ([]byte, error) {
	style, err := files.ReadFile("page.css")
	if err != nil {
		return nil, err
	}
	script, err := files.ReadFile("page.js")
	if err != nil {
		return nil, err
	}
	first := shown[0] // there are always some
	for _, s := range shown {
		if s.ID == "verdicts" {
			first = s
		}
	}
	var b bytes.Buffer
	err = shell.Execute(&b, map[string]any{
		"First": first, "Title": shortened(d.Study, mostName) + ": " + answer, "Head": d.head(), "Question": d.question(), "Answer": answer, "Sections": shown,
		"Style": template.CSS(style), "Script": template.JS(script),
	})
	return b.Bytes(), err
}

// sections are those that have something to show.
func (d *data) sections() []section {
	var shown []section
	for _, make := range inOrder {
		if s, ok := make(d); ok {
			shown = append(shown, s)
		}
	}
	return shown
}

func load(folder string) (*data, error) {
	d := &data{folder: folder, rows: map[string]*result.SummaryRow{}, stored: map[string]string{}, noted: map[string]bool{}}
	var err error
	if d.manifest, err = result.ReadManifest(folder); err != nil {
		return nil, err
	}
	if err = result.LoadSlices(folder, d.manifest); err != nil {
		return nil, err
	}
	if !d.manifest.Finished {
		return nil, fmt.Errorf("%s: the run is not finished; there is no answer to draw yet", folder)
	}
	if d.Answer, err = report.Read(folder); err != nil {
		return nil, err
	}
	d.Answer = d.Answer.Shown()
	var meta map[string]string
	if d.summary, meta, err = result.Summary.ReadWhere(folder, d.manifest, func(r *result.SummaryRow) bool { return r.Choice == d.Answer.Choice() }); err != nil {
		return nil, err
	}
	d.units = report.UnitsShown(meta)
	for i := range d.summary {
		d.stored[d.summary[i].Output] = d.summary[i].Unit
	}
	report.ShowSummary(d.summary, d.units)
	if err := d.ofChoice(); err != nil {
		return nil, err
	}
	curves, _, err := result.Curves.ReadWhere(folder, d.manifest, func(r *result.CurveRow) bool { return r.Choice == d.Answer.Choice() })
	if err != nil {
		return nil, err
	}
	report.ShowCurves(curves, d.units)
	d.curves = map[string][]result.CurveRow{}
	for _, r := range curves {
		if r.Of == result.OfOutput {
			d.curves[r.Output] = append(d.curves[r.Output], r)
		}
	}
	if d.inside, _, err = result.Inside.Read(folder, d.manifest); err != nil {
		return nil, err
	}
	report.ShowInside(d.inside, d.units)
	d.model = meta[report.MetaModel]
	for i := range d.summary {
		d.rows[d.summary[i].Output] = &d.summary[i]
	}
	return d, nil
}

// head are the facts on the first line: which run this is.
func (d *data) head() []string {
	return []string{shortened(d.Study, mostName), d.manifest.Ended.UTC().Format("2 January 2006"), report.Grouped(d.Run.Rows) + " draws", d.manifest.StudyDigest[:min(8, len(d.manifest.StudyDigest))]}
}

// How many letters of a study's name stand in every foot line, and of its question in the
// title; what is longer stands whole in how it was made.
const mostName, mostQuestion = 60, 300

// question is the title: what the study asks, or its name.
func (d *data) question() string {
	if about := strings.TrimSpace(d.About); about != "" {
		return shortened(about, mostQuestion)
	}
	return shortened(d.Study, mostQuestion)
}

// headline is the answer in a sentence or two.
func (d *data) headline() string {
	text := d.Tally()
	for i := range d.Claims {
		if c := &d.Claims[i]; c.Together() {
			text += " All of them together: " + short(c.Frequency) + "."
		}
	}
	return text
}

// foot tells under a figure which run and which row it comes from.
func (d *data) foot() string {
	h := d.head()
	return h[0] + " · " + h[1] + " · " + h[3]
}

// slicePaths are the sample files in order, or that of the draws moved to what was measured; none
// where they were not kept.
func (d *data) slicePaths() []string {
	if _, moved := d.manifest.Tables[result.TemperedTable]; moved {
		return []string{filepath.Join(d.folder, result.TemperedTable)}
	}
	var paths []string
	for _, r := range d.manifest.Rounds {
		if r.Kind == result.SampleKind {
			for _, s := range r.Slices {
				paths = append(paths, filepath.Join(d.folder, filepath.FromSlash(s.File)))
			}
		}
	}
	return paths
}

// Write draws the page into the folder and returns its path; with a comparison it opens with
// what changed. Another program that writes to the folder is an error.
func Write(folder string, since *changes.Comparison) (string, error) {
	if _, err := load(folder); err != nil { // before anything is made to lock it
		return "", err
	}
	lock, err := result.LockFolder(folder)
	if err != nil {
		return "", err
	}
	defer lock.Release()
	text, err := RenderSince(folder, since)
	if err != nil {
		return "", err
	}
	return lock.Folder().Path(result.PageFile), lock.Folder().WritePage(text)
}

// Draw draws the page into a folder that the caller has locked.
func Draw(folder *result.Folder) error {
	text, err := Render(folder.Path(""))
	if err != nil {
		return err
	}
	return folder.WritePage(text)
}
