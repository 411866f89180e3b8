package page

import (
	"strings"

	"proofmass/jobs/report/draw"
)

// A chanceRow is a chance with its interval, nil: not known.
type chanceRow struct {
	name, exact       string
	chance, low, high *float64
	ring              *float64 // another chance to compare it with, if any
	ringExact         string
}

// chancesScene draws a row a chance: the name, a disc with its interval, the chance in per
// cent; names are so wide where they stand beside the discs.
func chancesScene(title string, rows []chanceRow, names float64, f frame) *draw.Scene {
	left, step, lift := names, 30.0, 0.0
	if f.narrow() {
		left, step, lift = 0, 52, 22
	}
	s := &draw.Scene{Width: f.width, Title: title}
	scale := draw.NewScale(left+8, f.width-84, 0, 0, 100)
	var about []string
	bottom := step*float64(len(rows)) + 8
	for i := range rows {
		r := &rows[i]
		y := step*float64(i) + 16
		s.Say(0, y+5, draw.Fit(r.name, draw.TextSize, f.names(left, 12)), draw.Start, draw.Dark)
		about = append(about, r.exact)
		y += lift
		if r.chance == nil {
			s.Say(left+8, y+5, "no draw", draw.Start, draw.Soft)
			continue
		}
		at := scale.At(100 * *r.chance)
		if r.ring != nil {
			s.Line(scale.At(100**r.ring), y, at, y, draw.Rule, 1)
			s.Ring(scale.At(100**r.ring), y, 4.5, draw.Soft).Tip = r.ringExact
		}
		if r.low != nil && r.high != nil {
			s.Line(scale.At(100**r.low), y, scale.At(100**r.high), y, draw.Soft, 1.4)
		}
		s.Disc(at, y, 5, draw.Dark).Tip = r.exact
		s.Say(f.width, y+5, nearly(r.chance), draw.End, draw.Dark).Bold = true
	}
	s.Axis(scale, bottom, 5, "%")
	s.Height = bottom + 28
	s.About = strings.Join(about, "; ") + "."
	return s
}

// nearly is a chance in per cent, of all draws only where it is of all.
func nearly(chance *float64) string {
	if *chance >= 0.995 && *chance < 1 {
		return "over 99\u00a0%"
	}
	return percent(chance)
}
