package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// energyGroups are the parts of a stacked bar in their order: which sinks of the model they
// hold, and their grey. What none of them names joins the second.
var energyGroups = []struct {
	words string
	sinks []string
	ink   draw.Ink
}{
	{"rolling", []string{"rolling"}, draw.Dark},
	{"rest of the road", []string{"speed_term", "grade", "kinetic"}, draw.None},
	{"air drag", []string{"aero"}, draw.Soft},
	{"brakes", []string{"friction_brakes"}, draw.Ground},
	{"gear, motor, battery", []string{"gear", "drive_unit", "battery"}, draw.Hair},
	{"auxiliaries", []string{"auxiliaries"}, draw.Wash},
}

// An energyBar is one vehicle over one schedule.
type energyBar struct {
	schedule, vehicle string
	rows              []*result.InsideRow
	parts             []float64 // by group
	total             float64
}

// overSchedule is how the table begins the name of a figure of energies.
const overSchedule = "energy over "

// mostBars is how many bars a figure of energies has.
const mostBars = 12

// energy draws where the energy goes over each schedule.
func (d *data) energy() template.HTML {
	bars := d.energyBars()
	if len(bars) == 0 {
		return ""
	}
	n := numbers{Head: []string{"output", "unit", "mean", "p05", "p95", "draws"}, Left: 2}
	for _, b := range bars {
		for _, r := range b.rows {
			low, high := math.Min(r.P05, 0), math.Max(r.P95, 0)
			f := figures(&low, &high, &r.Mean, &r.P05, &r.P95)
			if math.Abs(r.Mean) < 1e-6 {
				f = []string{"", "", "0", "0", "0"}
			}
			n.Rows = append(n.Rows, []string{plain(r.Output), plain(r.Unit), f[2], f[3], f[4], fmt.Sprint(r.Rows)})
		}
	}
	kept := bars[:min(len(bars), mostBars)]
	caption := "Where the energy goes, for each kilometre over a schedule: means of the draws, which add up, without the model's own error."
	if left := len(bars) - len(kept); left > 0 {
		caption += fmt.Sprintf(" The first %d bars; the numbers have %d more.", len(kept), left)
	}
	each := 1
	for each < len(kept) && kept[each].schedule == kept[0].schedule {
		each++
	}
	return d.figure(picture{Kind: "energy", Caption: template.HTML(caption), From: "inside, means",
		Numbers: n, Scene: func(f frame) *draw.Scene { return d.energyScene(kept, f) }, Parts: parts(kept, max(each, 4/each*each), d.energyScene)}) +
		template.HTML(elsewhere(d.withoutBars(), "other vehicle", "inside.parquet"))
}

// withoutBars is how many vehicles have energies in the table and no bars.
func (d *data) withoutBars() int {
	vehicles, left := d.insideVehicles(), 0
	for _, v := range vehicles[min(len(vehicles), mostRoomy):] {
		if slices.ContainsFunc(d.inside, func(r result.InsideRow) bool {
			return r.Vehicle == v && r.Mean == r.Mean && strings.HasPrefix(r.Figure, overSchedule)
		}) {
			left++
		}
	}
	return left
}

// energyBars are all vehicles over one schedule after another; those of many vehicles are
// the first ones.
func (d *data) energyBars() []*energyBar {
	vehicles := d.insideVehicles()
	vehicles = vehicles[:min(len(vehicles), mostRoomy)]
	var bars []*energyBar
	of := map[string]*energyBar{}
	var schedules []string
	for i := range d.inside {
		r := &d.inside[i]
		schedule, found := strings.CutPrefix(r.Figure, overSchedule)
		if !found || r.Mean != r.Mean || !slices.Contains(vehicles, r.Vehicle) {
			continue
		}
		if !slices.Contains(schedules, schedule) {
			schedules = append(schedules, schedule)
		}
		b := of[schedule+"\x00"+r.Vehicle]
		if b == nil {
			b = &energyBar{schedule: schedule, vehicle: r.Vehicle, parts: make([]float64, len(energyGroups))}
			of[schedule+"\x00"+r.Vehicle] = b
		}
		b.rows = append(b.rows, r)
		b.total += r.Mean
		b.parts[energyGroup(r.Quantity)] += r.Mean
	}
	for _, schedule := range schedules {
		for _, v := range vehicles {
			if b := of[schedule+"\x00"+v]; b != nil && b.total > 0 {
				bars = append(bars, b)
			}
		}
	}
	return bars
}

func energyGroup(quantity string) int {
	for i, g := range energyGroups {
		for _, sink := range g.sinks {
			if strings.HasSuffix(quantity, "_"+sink) {
				return i
			}
		}
	}
	return 1
}

func (d *data) energyScene(bars []*energyBar, f frame) *draw.Scene {
	left, row := 96.0, 28.0
	for _, b := range bars {
		left = max(left, min(190, draw.Width(plain(b.vehicle), draw.TextSize, false)+14))
	}
	if f.narrow() {
		left, row = 0, 46
	}
	s := &draw.Scene{Width: f.width, Title: "Where the energy goes"}
	most := 0.0
	for _, b := range bars {
		most = max(most, b.total)
	}
	wide := f.width - left - 92
	unit := plain(bars[0].rows[0].Unit)
	at := func(v float64) float64 { return left + max(v, 0)/most*wide }
	levels := energyNames(nil, bars[0], at, 0)
	names := &draw.Scene{Width: f.width}
	room := 17 * float64(levels) // for the names above the first bar
	y := 0.0
	if !f.narrow() {
		y = room
	}
	var about []string
	for i, b := range bars {
		if i == 0 || bars[i-1].schedule != b.schedule {
			if i > 0 {
				y += 10
			}
			if i > 0 || f.narrow() {
				s.Say(0, y+14, plain(b.schedule), draw.Start, draw.Dark).Bold = true
			}
			if i > 0 || f.narrow() {
				y += 22
			}
		}
		top := y
		if f.narrow() {
			s.Say(0, y+14, draw.Fit(plain(b.vehicle), draw.TextSize, f.width), draw.Start, d.inkOf(b.vehicle))
			if i == 0 {
				y += room
			}
			top = y + 20
		} else {
			s.Say(0, y+16, draw.Fit(plain(b.vehicle), draw.TextSize, left-8), draw.Start, d.inkOf(b.vehicle))
		}
		if i == 0 {
			if !f.narrow() {
				s.Say(0, y-5, plain(b.schedule), draw.Start, draw.Dark).Bold = true
			}
			energyNames(names, b, at, top)
		}
		about = append(about, b.draw(s, at, top))
		s.Say(at(b.total)+8, top+16, fmt.Sprintf("%.0f\u00a0%s", b.total, unit), draw.Start, draw.Dark).Bold = true
		y += row
	}
	s.Shapes = append(s.Shapes, names.Shapes...)
	s.Height = y + 2
	s.About = strings.Join(about, "; ") + "."
	return s
}

// draw draws the bar and returns it in words.
func (b *energyBar) draw(s *draw.Scene, at func(float64) float64, top float64) string {
	const high = 22.0
	sum := 0.0
	words := []string{}
	for i, g := range energyGroups {
		part := b.parts[i]
		if part < 0.001*b.total {
			sum += part
			continue
		}
		x := at(sum)
		p := s.Box(x, top, at(sum+part)-x, high, g.ink, draw.Ground)
		p.Hatch = g.ink == draw.None
		if p.Hatch || g.ink == draw.Wash || g.ink == draw.Ground {
			p.Stroke = draw.Rule
		}
		p.Tip = fmt.Sprintf("%s %s over %s: %.1f\u00a0%s", g.words, plain(b.vehicle), plain(b.schedule), part, plain(b.rows[0].Unit))
		number := fmt.Sprintf("%.0f", part)
		if size := draw.Width(number, draw.TextSize, false); at(sum+part)-x >= size+6 && !p.Hatch {
			ink := draw.Dark
			if g.ink == draw.Dark || g.ink == draw.Soft {
				ink = draw.Ground
			}
			s.Say((x+at(sum+part))/2, top+16, number, draw.Middle, ink)
		}
		words = append(words, fmt.Sprintf("%s %.1f", g.words, part))
		sum += part
	}
	return fmt.Sprintf("%s over %s: %.1f %s, of it %s", plain(b.vehicle), plain(b.schedule), b.total, plain(b.rows[0].Unit), strings.Join(words, ", "))
}

// energyNames writes the names of the parts above a bar, each on the lowest level where it
// touches no other, joined to its part by a thin line; it returns how many levels that took.
// Without a scene it only counts them.
func energyNames(s *draw.Scene, b *energyBar, at func(float64) float64, top float64) int {
	type name struct {
		words     string
		x, middle float64
		level     int
	}
	var names []name
	var ends []float64 // of each level, where its last name ends
	sum := 0.0
	for i, g := range energyGroups {
		part := b.parts[i]
		if part >= 0.001*b.total {
			size := draw.Width(g.words, draw.TextSize, false)
			middle := (at(sum) + at(sum+part)) / 2
			x := max(middle-size/2, at(0))
			level := slices.IndexFunc(ends, func(end float64) bool { return end+8 <= x })
			// a line down from a higher level must not cross a name below it
			if level < 0 {
				level = len(ends)
				ends = append(ends, 0)
			}
			ends[level] = x + size
			names = append(names, name{g.words, x, middle, level})
		}
		sum += part
	}
	if s != nil {
		for _, n := range names {
			y := top - 5 - 17*float64(n.level)
			s.Line(n.middle, y+3, n.middle, top, draw.Rule, 1)
		}
		for _, n := range names {
			y := top - 5 - 17*float64(n.level)
			size := draw.Width(n.words, draw.TextSize, false)
			s.Box(n.x-2, y-12, size+4, 16, draw.Ground, draw.None)
			s.Say(n.x, y, n.words, draw.Start, draw.Dark)
		}
	}
	return len(ends)
}
