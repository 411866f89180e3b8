package page

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// strokes stand for all draws: twenty sheaves of ten, so that nineteen long sheaves can be
// counted as "stands" and one as "falls".
const strokes, sheaf = 200, 10

var verdictHTML = template.Must(template.New("verdict").Parse(`<div class="claim"><h3><i>{{.Name}}</i> {{.Verdict}}</h3>
<p class="said">{{.Said}}</p>
<div class="wide">{{.Wide}}</div><div class="narrow">{{.Narrow}}</div>
<p class="ends"><span>{{.Frequency}}.</span><span>{{.Chance}}</span></p></div>
`))

// verdicts are the claims, a picture of strokes each.
func verdicts(d *data) (section, bool) {
	s := section{ID: "verdicts", Label: "Verdicts"}
	if len(d.Claims) == 0 {
		s.Heading = "This study claims nothing; it asks how large things are."
		return s, true
	}
	if len(d.Claims) > mostSaid+1 {
		return d.manyVerdicts(s), true
	}
	var said []string
	var body strings.Builder
	fmt.Fprintf(&body, `<p class="note"><b>How to read it.</b> %s</p>`, "Two hundred strokes stand for all draws. A long stroke is a draw in which the claim holds, a short one a draw in which it does not; they stand in sheaves of ten. A claim stands when nineteen of the twenty sheaves are long, and falls when at most one is.")
	for i := range d.Claims {
		c := &d.Claims[i]
		if !c.Together() {
			said = append(said, "<i>"+safe(c.Name)+"</i> "+c.IsInWords())
		}
		scene := func(f frame) template.HTML {
			return template.HTML(strokesOf(c, f).SVG(fmt.Sprintf("v%d-%.0f", i+1, f.width)))
		}
		d.pictures = append(d.pictures, verdictPicture(c))
		body.WriteString(string(render(verdictHTML, map[string]any{
			"Name": report.ClaimName(plain(c.Name)), "Verdict": c.IsInWords(), "Said": saidOf(c), "Wide": scene(onWide), "Narrow": scene(onNarrow),
			"Frequency": withOdd(c), "Chance": chanceWords(c),
		})))
	}
	s.Heading = template.HTML(strings.Join(said, "; ") + ".")
	s.Body = template.HTML(body.String())
	return s, true
}

// withOdd is the chance in words, and the odd inputs that it rests on.
func withOdd(c *report.Claim) string {
	if odd := c.RestsOnOdd(); odd != "" {
		return capital(c.Frequency) + "; it " + odd
	}
	return capital(c.Frequency)
}

// verdictPicture is the picture of a claim's chance on its own.
func verdictPicture(c *report.Claim) picture {
	n := numbers{Head: []string{"claim", "verdict", "tested", "held", "draws", "chance, %", "from", "to"}, Left: 3, Rows: [][]string{verdictRow(c)}}
	return picture{Kind: "verdict", Subject: c.Name, From: "claims, row " + plain(c.Name), Numbers: n, Scene: func(f frame) *draw.Scene { return strokesOf(c, f) },
		Caption: template.HTML("<i>" + safe(report.ClaimName(plain(c.Name))) + "</i> " + c.IsInWords() + ": " + safe(c.Frequency) + ".")}
}

func verdictRow(c *report.Claim) []string {
	return []string{plain(c.Name), c.InWords(), plain(c.Text), report.Grouped(c.Held), report.Grouped(c.Rows), hundredths(&c.Chance), hundredths(c.Low), hundredths(c.High)}
}

// saidOf is what was announced and what was tested of it.
func saidOf(c *report.Claim) string {
	var text string
	switch _, quantity := split(c.Of); {
	case c.Together():
		return capital(plain(c.Text)) + "."
	case c.Announced != nil:
		text = fmt.Sprintf("Said of %s: %s. Tested: %s.", report.QuantityName(quantity), draw.Signed(plain(c.Said())), draw.Signed(plain(c.Tested())))
	default:
		text = "Tested: " + plain(c.Text) + "."
	}
	if c.SaidBy != "" {
		text += " Said by: " + plain(c.SaidBy) + "."
	}
	return text
}

// chanceWords is the chance in per cent; its interval is called what it is.
func chanceWords(c *report.Claim) string {
	if c.Halved != nil {
		return capital(strings.ReplaceAll(c.Behind(), " %", "\u00a0%"))
	}
	text := strings.ReplaceAll(c.Percent(), " %", "\u00a0%")
	if c.Low != nil && c.High != nil && c.Held > 0 && c.Held < c.Rows {
		text += ": sampling error alone"
	}
	return text
}

// strokesOf draws the picture of a chance: held draws first, infeasible ones as dots last.
func strokesOf(c *report.Claim, f frame) *draw.Scene {
	width := f.width
	rows, perRow := 2, 10
	if f.narrow() {
		rows, perRow = 4, 5
	}
	tall := 25.0 // a row
	if f.talk {
		tall = 50
	}
	long := share(c.Chance)
	dots := 0
	if c.Rows > 0 && c.Infeasible > 0 {
		dots = max(1, int(math.Round(strokes*float64(c.Infeasible)/float64(c.Rows))))
	}
	s := &draw.Scene{Width: width, Height: float64(rows)*tall - 1, Title: "Draws in which " + report.ClaimName(plain(c.Name)) + " holds",
		About: fmt.Sprintf("%s of %d strokes are long: %s.", strconv.FormatFloat(long, 'f', -1, 64), strokes, c.Frequency)}
	const gap = 9 // between sheaves, beside the pitch
	pitch := (width - 2 - gap*float64(perRow-1)) / float64(perRow*sheaf-1)
	for k := range strokes {
		row, column := k/(perRow*sheaf), k%(perRow*sheaf)
		x := 1 + float64(column)*pitch + float64(column/sheaf)*gap
		bottom := float64(row)*tall + tall - 3
		switch {
		case float64(k)+1 <= long:
			s.Line(x, bottom-tall+6, x, bottom, draw.Dark, 2)
		case float64(k) < long: // some, but fewer than a whole stroke
			s.Line(x, bottom-tall/2+1.5, x, bottom, draw.Dark, 2)
		case k >= strokes-dots:
			s.Disc(x, bottom-2, 1.4, draw.Rule).Stroke = draw.None
		default:
			s.Line(x, bottom-4, x, bottom, draw.Rule, 1.6)
		}
	}
	return s
}

// share is the number of long strokes; half of one stands for some, but fewer than one in
// 200, at either end, so that none and all are drawn for none and all alone.
func share(chance float64) float64 {
	switch n := math.Round(strokes * chance); {
	case chance <= 0:
		return 0
	case chance >= 1:
		return strokes
	case n == 0:
		return 0.5
	case n == strokes:
		return strokes - 0.5
	default:
		return n
	}
}
