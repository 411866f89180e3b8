package page

import (
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

var madeHTML = template.Must(template.New("made").Parse(`<dl class="made">{{range .Facts}}<dt>{{index . 0}}</dt><dd>{{index . 1}}</dd>{{end}}</dl>
<p>To repeat it, with the folder of this result:</p>
<pre><code>proofmass run {{.Folder}}/study.yaml --out ELSEWHERE</code></pre>
<p>Every number of this page stands in a table of that folder; <code>proofmass show {{.Folder}} --row N</code> prints one draw with every step.</p>
`))

// howMade tells what it takes to get the same numbers again.
func howMade(d *data) (section, bool) {
	m := d.manifest
	facts := [][2]string{
		{"draws", fmt.Sprintf("%s, %s design, seed %d", report.Grouped(d.Run.Rows), plain(d.Run.Design), d.Run.Seed)},
		{"model runs for sensitivity", report.Grouped(d.Run.IndexRuns)},
		{"digest of the study", inEights(m.StudyDigest)},
		{"program", "proofmass " + plain(m.Program) + ", " + plain(m.Go) + ", " + plain(m.Host.OS) + "/" + plain(m.Host.Arch)},
		{"made", m.Ended.UTC().Format("2 January 2006, 15:04 UTC")},
	}
	for _, long := range []struct {
		what, text string
		shown      int
	}{{"study", d.Study, mostName}, {"about", d.About, mostQuestion}} {
		if text := plain(long.text); shortened(text, long.shown) != text {
			facts = append(facts, [2]string{long.what, text})
		}
	}
	if !d.units.None() {
		facts = append(facts, [2]string{"units", "Shown: " + plain(d.units.String()) + ". Tables keep their own units, and so does what was said."})
	}
	for _, name := range slices.Sorted(maps.Keys(m.Overrides)) {
		facts = append(facts, [2]string{"--" + plain(name) + " on the command line", plain(m.Overrides[name])})
	}
	if r := d.Run.Reduced; r != nil {
		facts = append(facts, [2]string{"steps of schedules", capital(r.Told()) + "."})
	}
	if d.Run.Note != "" {
		facts = append(facts, [2]string{"note", capital(plain(d.Run.Note))})
	}
	return section{ID: "made", Label: "How it was made",
		Heading: template.HTML(fmt.Sprintf("%s draws from seed %d. Whoever repeats them gets the same numbers.", report.Grouped(d.Run.Rows), d.Run.Seed)),
		Body:    render(madeHTML, map[string]any{"Facts": facts, "Folder": "RESULT"})}, true
}

// inEights parts a digest so that it can be compared by eye.
func inEights(digest string) string {
	var parts []string
	for chunk := range slices.Chunk([]byte(digest), 8) {
		parts = append(parts, string(chunk))
	}
	return strings.Join(parts, " ")
}
