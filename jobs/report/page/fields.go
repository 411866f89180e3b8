package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostCells is how many cells a field shows one by one.
const mostCells = 2000

// flatField is the figure of which the quantities of flat-sided cells are.
const flatField = "flat field"

// flat reports whether a vehicle's cells have sides: prismatic ones and pouches.
func (d *data) flat(vehicle string) bool {
	round := rowOf(d.shown(flatField), "cell_roundness", vehicle)
	return round != nil && round.P50 < 0.5
}

// fields draws the grid of cells of each pack whose rows and columns are known.
func (d *data) fields() template.HTML {
	all := d.shown("field")
	var b strings.Builder
	known := 0
	var large []string
	for _, v := range d.insideVehicles() {
		g := d.gridOf(v)
		if g == nil {
			continue
		}
		if g.rows*g.columns > mostCells {
			large = append(large, v)
			continue
		}
		if known++; known > mostDrawn {
			continue
		}
		caption := fmt.Sprintf("The field of cells of <i>%s</i> from above, to scale: %d rows of %d places.", safe(v), g.rows, g.columns)
		if count := rowOf(all, "cell_count", v); count != nil && count.P50 < float64(g.rows*g.columns)-0.5 {
			caption += fmt.Sprintf(" About %.0f of the %d places hold a cell; which are empty is not known.", count.P50, g.rows*g.columns)
		}
		b.WriteString(string(d.figure(picture{Kind: "field", Subject: v, Caption: template.HTML(caption), From: fromInside, Numbers: insideNumbers(d.fieldOf(v)), Scene: g.scene})))
	}
	b.WriteString(elsewhere(known-mostDrawn, "other vehicle", "inside.parquet"))
	if len(large) > 0 {
		fmt.Fprintf(&b, "<p>Not drawn, for having more than %s places: the field of %s.</p>\n", report.Grouped(mostCells), safe(report.Listed(large)))
	}
	return template.HTML(b.String())
}

// fieldOf are the quantities of a vehicle's field: of flat-sided cells none that only round
// ones have.
func (d *data) fieldOf(vehicle string) []*quantity {
	kinds, without := []string{"field"}, map[string]bool{"layout": true}
	if d.flat(vehicle) {
		kinds = append(kinds, flatField)
		without["cell_diameter"], without["cell_pitch"], without["cell_roundness"] = true, true, true
	}
	var shown []*quantity
	for _, kind := range kinds {
		all := d.shown(kind)
		for _, q := range all {
			if r := rowOf(all, q.name, vehicle); r != nil && !without[q.name] {
				shown = append(shown, &quantity{name: q.name, rows: []*result.SummaryRow{r}})
			}
		}
	}
	return shown
}

// A grid is a field of cells, lengths in mm: along a row, and across the rows.
type grid struct {
	vehicle       string
	rows, columns int
	pitch, rise   float64
	shift         float64 // of every other row
	long, wide    float64 // of a cell
	round         bool
}

// gridOf is a vehicle's field as far as it is told how its cells stand, else nil.
func (d *data) gridOf(vehicle string) *grid {
	all, flat := d.shown("field"), d.shown(flatField)
	rows, columns := rowOf(all, "cell_rows", vehicle), rowOf(all, "cell_columns", vehicle)
	if !positive(rows) || !positive(columns) {
		return nil
	}
	g := &grid{vehicle: vehicle, rows: int(math.Round(rows.P50)), columns: int(math.Round(columns.P50))}
	if d.flat(vehicle) {
		along, across := rowOf(flat, "cell_side_along_row", vehicle), rowOf(flat, "cell_side_of_rows", vehicle)
		pitch, gap := rowOf(flat, "pitch_along_row", vehicle), rowOf(flat, "gap_across", vehicle)
		if !positive(along) || !positive(across) || !positive(pitch) {
			return nil
		}
		g.long, g.wide, g.pitch, g.rise = along.P50, across.P50, pitch.P50, across.P50
		if positive(gap) {
			g.rise += gap.P50
		}
		return g
	}
	pitch, diameter, layout := rowOf(all, "cell_pitch", vehicle), rowOf(all, "cell_diameter", vehicle), rowOf(all, "layout", vehicle)
	if layout == nil || !positive(pitch) || !positive(diameter) {
		return nil
	}
	g.round, g.long, g.wide, g.pitch, g.rise = true, diameter.P50, diameter.P50, pitch.P50, pitch.P50
	if layout.P50 < 0.5 { // hexagonal
		g.rise, g.shift = pitch.P50*math.Sqrt(3)/2, pitch.P50/2
	}
	return g
}

func (g *grid) scene(f frame) *draw.Scene {
	gap := g.pitch - g.long // half of it stands around the field too
	across, up := float64(g.columns)*g.pitch+g.shift, float64(g.rows-1)*g.rise+g.wide+gap
	turned := f.talk && up > across // a talk is wide
	if turned {
		across, up = up, across
	}
	scale := min((f.width-2)/across, 420/up)
	if f.talk {
		scale = min((f.width-2)/across, 250/up)
	}
	s := &draw.Scene{Width: f.width, Title: "Field of cells of " + plain(g.vehicle)}
	var at []draw.Point
	for r := range g.rows {
		for c := range g.columns {
			x, y := g.pitch/2+float64(c)*g.pitch, (g.wide+gap)/2+float64(r)*g.rise
			if r%2 == 1 {
				x += g.shift
			}
			if turned {
				x, y = y, x
			}
			at = append(at, draw.Point{X: 1 + x*scale, Y: 1 + y*scale})
		}
	}
	s.Height = scaleBar(s, 1+up*scale+16, scale, f.width)
	rows := fmt.Sprintf("%d rows of %d places, pitch %.1f mm", g.rows, g.columns, g.pitch)
	if g.round {
		radius := g.long / 2 * scale
		s.Dots(at, radius, draw.Rule)
		s.Dots(at, max(radius-0.9, radius/2), draw.Wash)
		s.About = fmt.Sprintf("%s, diameter %.1f mm.", rows, g.long)
		return s
	}
	long, wide := g.long*scale, g.wide*scale
	if turned {
		long, wide = wide, long
	}
	for _, p := range at {
		s.Box(p.X-long/2, p.Y-wide/2, long, wide, draw.Wash, draw.Rule)
	}
	s.About = fmt.Sprintf("%s along a row and %.1f mm from row to row, cells of %.1f by %.1f mm.", rows, g.rise, g.long, g.wide)
	return s
}
