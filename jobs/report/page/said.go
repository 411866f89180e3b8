package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostSaid is how many claims get a figure of their own: those nearest to a verdict's edge.
const mostSaid = 6

// saidAndDrawn sets each announcement over what the draws give of the same quantity.
func saidAndDrawn(d *data) (section, bool) {
	s := section{ID: "said", Label: "Said and drawn"}
	claims := d.announced()
	if len(claims) == 0 {
		return s, false
	}
	farthest := slices.MinFunc(claims, func(a, b *report.Claim) int { return compare(a.Chance, b.Chance) })
	s.Heading = template.HTML(d.saidSentence(farthest))
	var b strings.Builder
	for _, c := range claims {
		x, err := d.drawsOf(c)
		if err != nil {
			fmt.Fprintf(&b, "<p>%s</p>\n", safe(err.Error()))
			continue
		}
		b.WriteString(string(d.saidFigure(c, x)))
	}
	drawn := 0
	for i := range d.Claims {
		if d.drawnOf(&d.Claims[i]) {
			drawn++
		}
	}
	b.WriteString(elsewhere(drawn-len(claims), "other claim", "claims.parquet"))
	b.WriteString(string(d.pairs()))
	s.Body = template.HTML(b.String())
	return s, true
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// announced are the claims of an announced number whose quantity has a spread, in the
// study's order; of many those nearest to an edge between verdicts.
func (d *data) announced() []*report.Claim {
	var claims []*report.Claim
	for i := range d.Claims {
		if c := &d.Claims[i]; d.drawnOf(c) {
			claims = append(claims, c)
		}
	}
	if len(claims) <= mostSaid {
		return claims
	}
	edge := func(c *report.Claim) float64 {
		return min(math.Abs(c.Chance-result.StandsFrom), math.Abs(c.Chance-result.FallsTo))
	}
	near := slices.SortedFunc(slices.Values(claims), func(a, b *report.Claim) int { return compare(edge(a), edge(b)) })[:mostSaid]
	return slices.DeleteFunc(claims, func(c *report.Claim) bool { return !slices.Contains(near, c) })
}

// drawnOf reports whether a claim is of an announced number whose quantity has a spread.
func (d *data) drawnOf(c *report.Claim) bool {
	return c.Announced != nil && c.Seen != nil && c.Seen.P50 != nil && c.Seen.P05 != nil && c.Seen.P95 != nil && *c.Seen.P05 < *c.Seen.P95 && d.rows[c.Of] != nil
}

func (d *data) saidSentence(c *report.Claim) string {
	n := figures(c.Seen.P05, c.Seen.P50, c.Seen.P95)
	text := fmt.Sprintf("%s was said to be %s. The draws give %s", capital(setName(c.Of)), safe(draw.Signed(c.Said())), safe(with(n[1], c.Unit)))
	if would := standing(c); would != nil {
		text += ", and " + safe(with(figures(c.Seen.P05, would, c.Seen.P95)[1], c.Unit)) + " would have stood"
	}
	return text + "."
}

func split(name string) (vehicle, quantity string) {
	if v, q, found := strings.Cut(name, "."); found {
		return v, q
	}
	return "", name
}

// standing is the limit that nineteen in twenty draws would have borne out, nil where the
// claim has two limits, or draws without a value, which the percentiles leave out.
func standing(c *report.Claim) *float64 {
	switch {
	case c.Infeasible > 0:
	case c.Side == result.Above:
		return c.Seen.P05
	case c.Side == result.Below:
		return c.Seen.P95
	}
	return nil
}

// saidFigure draws one claim: announced and tested over the chance curve, the draws below.
func (d *data) saidFigure(c *report.Claim, x drawn) template.HTML {
	n := numbers{Head: []string{"what", "unit", "value"}, Left: 2}
	add := func(what string, value *float64) {
		if value != nil {
			n.Rows = append(n.Rows, []string{what, plain(c.Unit), figures(c.Seen.P05, value, c.Seen.P95)[1]})
		}
	}
	for _, x := range []struct {
		what  string
		value *float64
	}{{"announced", c.Announced}, {"rounded to", c.RoundedTo}, {"tested limit", c.Limit}} {
		if x.value != nil {
			n.Rows = append(n.Rows, []string{x.what, plain(c.Unit), stated(x.value)})
		}
	}
	add("draws, 5th percentile", c.Seen.P05)
	add("draws, middle", c.Seen.P50)
	add("draws, 95th percentile", c.Seen.P95)
	add("would have stood", standing(c))
	n.Rows = append(n.Rows, []string{"chance of the claim", "%", fmt.Sprintf("%.2f", 100*c.Chance)})
	note := "Above the axis stands what was said: a cross in the band that rounding leaves, and the line that was tested. The curve is the chance that a claim drawn at that place would hold. Below the axis hangs what the draws give; it is filled where the claim holds and hatched where it fails."
	from := "samples"
	if x.step > 1 {
		from += ", " + oneIn(x.step)
	}
	if len(x.sorted) == 0 {
		note = ""
	}
	return d.figure(picture{Kind: "said", Subject: c.Name, Caption: template.HTML("<i>" + safe(c.Name) + "</i>: " + setName(c.Of) + ", said and drawn."),
		From: "claims, row " + plain(c.Name) + "; summary, row " + plain(c.Of) + "; " + from, Note: d.note("said", note), Numbers: n,
		Scene: func(f frame) *draw.Scene { return saidScene(c, d.rows[c.Of], x, f) }})
}

// Heights of the fields of the figure, in drawing units.
const (
	saidLine, testedLine = 12.0, 38.0
	curveTop, curveField = 62.0, 150.0
	densityDeep          = 66.0
)

func saidScene(c *report.Claim, row *result.SummaryRow, x drawn, f frame) *draw.Scene {
	width := f.width
	left := 66.0
	_, quantity := split(c.Of)
	s := &draw.Scene{Width: width, Title: report.QuantityName(quantity) + ", said and drawn"}
	scale := saidScale(c, x.sorted, left, width-14)
	bottom := curveTop + curveField
	if len(x.sorted) == 0 { // the draws were not kept
		bottom = curveTop
	}
	saidAbove(s, c, scale, bottom)
	if len(x.sorted) > 0 {
		chanceCurve(s, c, scale, x, left, bottom)
	}
	s.Axis(scale, bottom, 9, plain(c.Unit))
	y := bottom + 28
	if len(x.sorted) > 0 {
		s.Say(0, y+12, "draws", draw.Start, draw.Soft).Italic = true
		hang(s, c, scale, x.sorted, y)
		y += densityDeep + 18
	} else {
		y += 14
	}
	q := &quantityOf{c: c, row: row}
	s.Say(0, y+5, draw.Fit(plain(row.Vehicle), draw.TextSize, left), draw.Start, draw.Cand).Bold = true
	exact := q.bar(s, scale, y)
	s.Height = y + 28
	s.About = fmt.Sprintf("Said: %s; tested: %s; the draws give %s.", draw.Signed(c.Said()), draw.Signed(plain(c.Tested())), exact)
	return s
}

// saidScale holds the draws but their far tails, the announcement and its limits.
func saidScale(c *report.Claim, x []float64, from, to float64) draw.Scale {
	ends := []float64{*c.Seen.P05, *c.Seen.P95, *c.Announced}
	if n := len(x); n > 0 {
		ends = append(ends, x[n/400], x[n-1-n/400])
	}
	if c.Limit != nil {
		ends = append(ends, *c.Limit)
	}
	low, high := around(c)
	return draw.NewScale(from, to, 0.03, append(ends, low, high)...)
}

// saidAbove draws the announcement in its rounding box and the line that was tested, with
// words on the side where there is room.
func saidAbove(s *draw.Scene, c *report.Claim, scale draw.Scale, axis float64) {
	s.Say(0, saidLine+5, "said", draw.Start, draw.Soft).Italic = true
	s.Say(0, testedLine+5, "tested", draw.Start, draw.Soft).Italic = true
	at := scale.At(*c.Announced)
	left, right := at-9, at+9
	words := draw.Signed(c.Said())
	if c.RoundedTo != nil {
		low, high := around(c)
		left, right = min(left, scale.At(low)), max(right, scale.At(high))
		s.Box(left, saidLine-8, right-left, 16, draw.Wash, draw.Rule)
		longer := words + ", to the nearest " + with(strconv.FormatFloat(*c.RoundedTo, 'g', 6, 64), c.Unit)
		if size := draw.Width(longer, draw.TextSize, false) + 7; right+size <= s.Width || left-size > 50 {
			words = longer
		}
	}
	s.Cross(at, saidLine)
	beside(s, left, right, saidLine+5, words, false)
	limits := []float64{}
	switch {
	case c.Limit != nil:
		limits = append(limits, *c.Limit)
	case c.RoundedTo != nil:
		low, high := around(c)
		limits = append(limits, low, high)
	}
	for _, limit := range limits { // broken where the axis has its numbers
		s.Line(scale.At(limit), testedLine-6, scale.At(limit), axis+6, draw.Dark, 1.2).Dash = draw.Dash
		s.Line(scale.At(limit), axis+24, scale.At(limit), axis+28+densityDeep, draw.Dark, 1.2).Dash = draw.Dash
	}
	if len(limits) == 0 {
		return
	}
	place := scale.At(limits[0])
	short, _, _ := strings.Cut(plain(c.Tested()), ", since")
	beside(s, place-2, scale.At(limits[len(limits)-1])+2, testedLine+5, draw.Signed(short), true)
	switch c.Side {
	case result.Above:
		s.Arrow(place, min(place+38, s.Width), testedLine+14, draw.Dark)
	case result.Below:
		s.Arrow(place, place-38, testedLine+14, draw.Dark)
	}
}

// beside writes words right of a mark, else left of it.
func beside(s *draw.Scene, left, right, y float64, words string, bold bool) {
	size := draw.Width(words, draw.TextSize, bold)
	at, anchor := right+7, draw.Start
	if at+size > s.Width && left-7-size > 50 {
		at, anchor = left-7, draw.End
	} else if at+size > s.Width {
		at, anchor = s.Width, draw.End
	}
	s.Say(at, y, words, anchor, draw.Dark).Bold = bold
}

// chanceCurve draws the chance that a claim at each place would hold.
func chanceCurve(s *draw.Scene, c *report.Claim, scale draw.Scale, x drawn, left, bottom float64) {
	height := func(chance float64) float64 { return bottom - chance*(curveField-8) }
	for _, g := range []struct {
		chance float64
		words  string
	}{{result.StandsFrom, "19 in 20"}, {0.5, "1 in 2"}, {result.FallsTo, "1 in 20"}} {
		s.Say(left-8, height(g.chance)+5, g.words, draw.End, draw.Soft)
		s.Line(left, height(g.chance), scale.To, height(g.chance), draw.Hair, 1)
	}
	const steps = 160
	var points []draw.Point
	for k := range steps + 1 {
		at := scale.Low + (scale.High-scale.Low)*float64(k)/steps
		points = append(points, draw.Point{X: scale.At(at), Y: height(chanceAt(c, x, at))})
	}
	s.Curve(points, draw.Dark, 2)
	if would := standing(c); would != nil {
		at := scale.At(*would)
		s.Ring(at, height(result.StandsFrom), 4.5, draw.Dark).Tip = "19 in 20 draws would bear out " + with(figures(c.Seen.P05, would, c.Seen.P95)[1], c.Unit)
		words := with(figures(c.Seen.P05, would, c.Seen.P95)[1], c.Unit) + " would stand"
		if c.Side == result.Above && at+8+draw.Width(words, draw.TextSize, false) < s.Width || at-8-draw.Width(words, draw.TextSize, false) < left {
			s.Say(at+8, height(result.StandsFrom)-7, words, draw.Start, draw.Dark)
		} else {
			s.Say(at-8, height(result.StandsFrom)-7, words, draw.End, draw.Dark)
		}
	}
	if c.Limit != nil {
		at := height(chanceAt(c, x, *c.Limit))
		s.Disc(scale.At(*c.Limit), at, 4.5, draw.Dark).Tip = capital(c.Frequency)
	}
}

// chanceAt is the share of all draws, those without a value too, that a limit at this place
// would take in; of a claim with two limits, of an announcement at this place.
func chanceAt(c *report.Claim, x drawn, at float64) float64 {
	n := float64(x.rows)
	below := func(limit float64) float64 { i, _ := slices.BinarySearch(x.sorted, limit); return float64(i) }
	switch c.Side {
	case result.Above:
		return (float64(len(x.sorted)) - below(at)) / n
	case result.Below:
		return below(math.Nextafter(at, math.Inf(1))) / n
	}
	half := 0.0
	if c.RoundedTo != nil {
		half = *c.RoundedTo / 2
	}
	return (below(math.Nextafter(at+half, math.Inf(1))) - below(at-half)) / n
}

// holdsAt reports whether a draw at this place bears the claim out.
func holdsAt(c *report.Claim, at float64) bool {
	switch c.Side {
	case result.Above:
		return at >= *c.Limit
	case result.Below:
		return at <= *c.Limit
	}
	return c.RoundedTo != nil && math.Abs(at-*c.Announced) <= *c.RoundedTo/2
}

// hang draws the density of the draws below the axis, in 90 classes, smoothed.
func hang(s *draw.Scene, c *report.Claim, scale draw.Scale, x []float64, top float64) {
	const classes = 90
	count := make([]float64, classes)
	for _, v := range x {
		if k := int(classes * (v - scale.Low) / (scale.High - scale.Low)); k >= 0 && k < classes {
			count[k]++
		}
	}
	density := smooth(smooth(smooth(smooth(count))))
	most := slices.Max(density)
	place := func(k int) draw.Point {
		return draw.Point{X: scale.At(scale.Low + (float64(k)+0.5)*(scale.High-scale.Low)/classes), Y: top + densityDeep*density[k]/most}
	}
	value := func(k int) float64 { return scale.Low + (float64(k)+0.5)*(scale.High-scale.Low)/classes }
	for from := 0; from < classes; {
		to := from
		for to+1 < classes && holdsAt(c, value(to+1)) == holdsAt(c, value(from)) {
			to++
		}
		last := min(to+1, classes-1) // areas meet
		area := []draw.Point{{X: place(from).X, Y: top}}
		for k := from; k <= last; k++ {
			area = append(area, place(k))
		}
		area = append(area, draw.Point{X: place(last).X, Y: top})
		if holdsAt(c, value(from)) {
			s.Area(area, draw.CandWash)
		} else {
			s.Area(area, draw.None).Hatch = true
		}
		from = to + 1
	}
	var outline []draw.Point
	for k := range classes {
		outline = append(outline, place(k))
	}
	s.Curve(outline, draw.Cand, 1.8)
}

// smooth weights neighbours 1 2 1.
func smooth(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		before, after := x[max(i-1, 0)], x[min(i+1, len(x)-1)]
		y[i] = (before + 2*x[i] + after) / 4
	}
	return y
}

// quantityOf is the announced quantity with its interval of draws.
type quantityOf struct {
	c   *report.Claim
	row *result.SummaryRow
}

func (q *quantityOf) bar(s *draw.Scene, scale draw.Scale, y float64) string {
	in := announcedIn(q.c, q.row)
	r := *q.row
	r.P05, r.P25, r.P50, r.P75, r.P95, r.Unit = in(r.P05), in(r.P25), in(r.P50), in(r.P75), in(r.P95), q.c.Unit
	return (&quantity{name: r.Quantity, base: "-"}).bar(s, scale, &r, y)
}
