package page

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"html"
	"regexp"
	"slices"
	"strings"

	changes "proofmass/jobs/compare"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// FigureKinds are the kinds of file that figures are written as.
var FigureKinds = []string{"svg", "png"}

// WriteFigures writes each figure of the page of a finished result into its folder figures,
// in the size of a page and in that of a talk, the latter light and dark, as files of these
// kinds, and the numbers of each as CSV; with a comparison those of what changed too. It
// returns how many figures there are.
func WriteFigures(folder string, kinds []string, since *changes.Comparison) (int, error) {
	d, err := load(folder)
	if err != nil {
		return 0, err
	}
	d.since = since
	d.sections()
	lock, err := result.LockFolder(folder)
	if err != nil {
		return 0, err
	}
	defer lock.Release()
	if err := lock.Folder().DropFigures(); err != nil {
		return 0, err
	}
	taken := map[string]bool{}
	for i := range d.pictures {
		p := &d.pictures[i]
		name := fileName(p, taken)
		if err := d.writeFigure(lock.Folder(), name, p, kinds); err != nil {
			return 0, err
		}
	}
	return len(d.pictures), nil
}

func (d *data) writeFigure(folder *result.Folder, name string, p *picture, kinds []string) error {
	if err := folder.WriteFigure(name+".csv", p.Numbers.csv()); err != nil {
		return err
	}
	for _, f := range d.forms(name, p) {
		if slices.Contains(kinds, "svg") {
			text := f.scene.File("figure", f.colours, f.width, f.height)
			if err := folder.WriteFigure(f.name+".svg", []byte(text)); err != nil {
				return err
			}
		}
		if slices.Contains(kinds, "png") {
			var b bytes.Buffer
			if err := f.scene.PNG(&b, f.colours, f.pixels); err != nil {
				return err
			}
			if err := folder.WriteFigure(f.name+".png", b.Bytes()); err != nil {
				return err
			}
		}
	}
	return nil
}

// A form is a figure as it is written: a scene with what stands around it.
type form struct {
	name          string
	scene         *draw.Scene
	colours       draw.Palette
	width, height string // of the SVG
	pixels        float64
}

// unfit are the characters that a file name does without.
var unfit = regexp.MustCompile(`[^A-Za-z0-9_.-]+`)

// fileName is made of the kind of figure and of what it is about, so that it stays the same
// whatever else the page shows.
func fileName(p *picture, taken map[string]bool) string {
	name := p.Kind
	if subject := strings.Trim(unfit.ReplaceAllString(plain(p.Subject), "-"), "-."); subject != "" {
		name += "-" + subject[:min(len(subject), 80)]
	}
	for n, stem := 2, name; taken[strings.ToLower(name)]; n++ { // some disks know no capitals
		name = fmt.Sprintf("%s.%d", stem, n)
	}
	taken[strings.ToLower(name)] = true
	return name
}

// forms are the picture in the widths of a page and of a column, and large for a talk, light and dark; what
// does not fit in one picture then is cut into several.
func (d *data) forms(name string, p *picture) []form {
	caption := html.UnescapeString(tags.ReplaceAllString(string(p.Caption), ""))
	wide, narrow := d.onPage(caption, p, onWide), d.onPage(caption, p, onNarrow)
	forms := []form{
		{name: name, scene: wide, colours: draw.LightColours, width: "165mm", height: fmt.Sprintf("%.2fmm", 165*wide.Height/wide.Width), pixels: 1949 / wide.Width},
		{name: name + ".narrow", scene: narrow, colours: draw.LightColours, width: "78mm", height: fmt.Sprintf("%.2fmm", 78*narrow.Height/narrow.Width), pixels: 921 / narrow.Width},
	}
	scenes := p.Parts
	if len(scenes) == 0 {
		scenes = []func(frame) *draw.Scene{p.Scene}
	}
	for i, scene := range scenes {
		part := name + ".talk"
		if len(scenes) > 1 {
			part = fmt.Sprintf("%s.talk.%d", name, i+1)
		}
		large := d.forTalk(caption, scene)
		forms = append(forms, form{part, large, draw.LightColours, "1920", "1080", 1}, form{part + ".dark", large, draw.DarkColours, "1920", "1080", 1})
	}
	return forms
}

var tags = regexp.MustCompile(`<[^>]*>`)

// onPage sets a drawing between its caption and its foot, for a page's width or a column's.
func (d *data) onPage(caption string, p *picture, f frame) *draw.Scene {
	const foot = 11.5
	margin, size, most := 12.0, 15.0, 4
	if f.narrow() {
		margin, size, most = 4, 14, 8
	}
	inner := p.Scene(f)
	s := &draw.Scene{Width: inner.Width + 2*margin, Title: inner.Title, About: inner.About}
	y := margin
	for _, line := range broken(caption, size, inner.Width, most) {
		s.Say(margin, y+size, line, draw.Start, draw.Dark).Size = size
		y += 1.4 * size
	}
	y += 12
	s.Place(inner, margin, y, 1)
	y += inner.Height + 14
	s.Line(margin, y, s.Width-margin, y, draw.Hair, 1)
	y += 17
	s.Say(margin, y, draw.Fit(d.foot(), foot, inner.Width), draw.Start, draw.Soft).Size = foot
	from := "from " + p.From
	if room := inner.Width - draw.Width(d.foot(), foot, false) - 20; draw.Width(from, foot, false) <= room {
		s.Say(s.Width-margin, y, from, draw.End, draw.Soft).Size = foot
	} else {
		for _, line := range broken(from, foot, inner.Width, 3) {
			y += 16
			s.Say(margin, y, line, draw.Start, draw.Soft).Size = foot
		}
	}
	s.Height = y + margin + 2
	return s
}

// forTalk lays a drawing out anew for a wide screen, its words large.
func (d *data) forTalk(caption string, scene func(frame) *draw.Scene) *draw.Scene {
	const wide, high, margin, drawingWide, drawingHigh, text = 1920, 1080, 96, 1728.0, 730.0, 34.0
	times := text / draw.TextSize
	at := func() *draw.Scene { return scene(frame{width: drawingWide / times, rows: 6, talk: true}) }
	inner := at()
	if inner.Height*times > drawingHigh {
		times = drawingHigh / inner.Height
		inner = at()
	}
	s := &draw.Scene{Width: wide, Height: high, Title: inner.Title, About: inner.About}
	y := float64(margin)
	if len(broken(caption, 60, drawingWide, 3)) > 2 { // what comes behind a colon or semicolon says how it was made
		caption, _, _ = strings.Cut(caption, ": ")
		caption, _, _ = strings.Cut(caption, "; ")
	}
	for _, line := range broken(caption, 60, drawingWide, 2) {
		s.Say(margin, y+46, line, draw.Start, draw.Dark).Size = 60
		y += 72
	}
	s.Place(inner, margin, 252+(drawingHigh-inner.Height*times)/3, times)
	s.Line(margin, 1008, wide-margin, 1008, draw.Hair, 2)
	s.Say(margin, 1048, d.foot(), draw.Start, draw.Soft).Size = 26
	return s
}

// broken breaks words into lines of a width; what does not fit in so many ends in an ellipsis.
func broken(words string, size, width float64, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		switch {
		case line == "":
			line = word
		case len(lines) == most-1 || draw.Width(line+" "+word, size, false) <= width:
			line += " " + word
		default:
			lines = append(lines, draw.Fit(line, size, width))
			line = word
		}
	}
	return append(lines, draw.Fit(line, size, width))
}

// csv are the numbers for a program: plain minus signs, no commas between thousands, nothing
// where the page has a dash.
func (n *numbers) csv() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(n.Head) // a buffer takes all
	for _, row := range n.Rows {
		cells := slices.Clone(row)
		for i := range cells {
			if i >= n.Left {
				cells[i] = strings.NewReplacer("−", "-", ",", "", "\u00a0", " ", "–", "").Replace(cells[i])
			}
		}
		_ = w.Write(cells)
	}
	w.Flush()
	return b.Bytes()
}
