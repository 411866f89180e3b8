package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/result"
)

// A Measure is what could be measured for one claim, and what it is worth: how much less often
// a draw would be judged wrongly.
type Measure struct {
	Claim string    `json:"claim"`
	Risk  *float64  `json:"risk"` // of judging a draw wrongly now
	Unit  string    `json:"unit"` // of the spread
	SD    *float64  `json:"sd"`
	Items []Learned `json:"items"`           // the best first
	Pairs []Learned `json:"pairs,omitempty"` // tried where no single item turns the likelier answer
}

// Learned is one item, or two together.
type Learned struct {
	Item      string   `json:"item"`
	Other     string   `json:"other,omitempty"`
	Error     float64  `json:"error"` // standard deviation of the gauge; 0: learnt exactly
	ErrorUnit string   `json:"error_unit"`
	Price     *float64 `json:"price,omitempty"`
	PriceUnit string   `json:"price_unit,omitempty"`
	Gain      *float64 `json:"gain"`
	Low       *float64 `json:"gain_low"`
	High      *float64 `json:"gain_high"`
	Share     *float64 `json:"variance_share"`
	SDLeft    *float64 `json:"sd_left"`
	ForMoney  int64    `json:"rank_for_money,omitempty"`
}

func measuresOf(rows []result.MeasureRow) []Measure {
	var all []Measure
	for i := range rows {
		r := &rows[i]
		if len(all) == 0 || all[len(all)-1].Claim != r.Claim {
			all = append(all, Measure{Claim: r.Claim, Risk: Known(r.Risk), Unit: r.Unit, SD: Known(r.SD), Items: []Learned{}})
		}
		m := &all[len(all)-1]
		l := Learned{r.Item, r.Other, r.Error, r.ErrorUnit, Known(r.Price), r.PriceUnit, Known(r.Gain), Known(r.GainLow), Known(r.GainHigh), Known(r.Share), Known(r.SDLeft), r.RankForMoney}
		if r.Other != "" {
			m.Pairs = append(m.Pairs, l)
		} else {
			m.Items = append(m.Items, l)
		}
	}
	return all
}

// Next is what could be measured for a claim, nil where nothing is told.
func (a *Answer) Next(claim string) *Measure {
	i := slices.IndexFunc(a.Measure, func(m Measure) bool { return m.Claim == claim })
	if i < 0 || a.Measure[i].Risk == nil || len(a.Measure[i].Items) == 0 || a.Measure[i].Items[0].Gain == nil {
		return nil
	}
	return &a.Measure[i]
}

// helps reports whether it is shown that less is judged wrongly.
func (l *Learned) helps() bool { return l.Low != nil && *l.Low > 0 }

// Helping are the items that surely help.
func (m *Measure) Helping() []Learned {
	n := 0
	for n < len(m.Items) && m.Items[n].helps() {
		n++
	}
	return m.Items[:n]
}

// Named is what is measured, how well, and at what price.
func (l *Learned) Named() string {
	text := l.Item
	if l.Error > 0 {
		text += " to +-" + WithUnit(AsStated(l.Error), l.ErrorUnit)
	}
	if l.Other != "" {
		text += " and " + l.Other
	}
	if l.Price != nil {
		text += " for " + l.Costs()
	}
	return text
}

// Costs is the price, "" where the study does not say it.
func (l *Learned) Costs() string {
	switch {
	case l.Price == nil:
		return ""
	case l.PriceUnit == "":
		return AsStated(*l.Price) + " of money"
	}
	return WithUnit(AsStated(*l.Price), l.PriceUnit)
}

// AsStated is a number that a study states, which has no more digits than it needs.
func AsStated(x float64) string {
	text := Short(x)
	if !strings.Contains(text, ".") || strings.Contains(text, "e") {
		return text
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// Hundred is a chance as a number of 100 draws.
func Hundred(chance float64) string {
	switch x := 100 * chance; {
	case x == 0:
		return "0"
	case x < 0.1:
		return "less than 0.1"
	case x < 2:
		return strconv.FormatFloat(x, 'f', 1, 64)
	default:
		return strconv.Itoa(int(math.Round(x)))
	}
}

// Worth says how many of 100 draws fewer would be judged wrongly, with the interval.
func (l *Learned) Worth() string {
	if !l.helps() {
		return "not shown to help"
	}
	return fmt.Sprintf("%s fewer, %s to %s", Hundred(*l.Gain), Hundred(*l.Low), Hundred(*l.High))
}

// Left is the chance of judging a draw wrongly when the item is known.
func (m *Measure) Left(l *Learned) float64 { return max(0, *m.Risk-*l.Gain) }

// InWords says what to measure for a claim.
func (m *Measure) InWords() string {
	helping := m.Helping()
	if len(helping) > 0 {
		l := &helping[0]
		return fmt.Sprintf("%s: then %s of 100 draws are judged wrongly, now %s (%s)", l.Named(), Hundred(m.Left(l)), Hundred(*m.Risk), l.Worth())
	}
	text := "no single measurement turns this verdict"
	if len(m.Pairs) > 0 && m.Pairs[0].helps() {
		l := &m.Pairs[0]
		return fmt.Sprintf("%s; %s together leave %s of 100 draws judged wrongly, now %s (%s)", text, l.Named(), Hundred(m.Left(l)), Hundred(*m.Risk), l.Worth())
	}
	return text
}

// short is InWords for lines behind labels, and what tells most for the money where that is
// something else, "" where it is not. Of what tells most the gauge that could measure it goes
// before its being learnt exactly, which no gauge does.
func (m *Measure) short() (next, money string) {
	helping := m.Helping()
	if len(helping) == 0 {
		return m.InWords(), ""
	}
	l := &helping[0]
	if i := slices.IndexFunc(helping, func(x Learned) bool { return x.Item == l.Item && (x.Error > 0 || x.Price != nil) }); i > 0 {
		l = &helping[i]
	}
	next = fmt.Sprintf("measure %s: wrong in %s of 100 then, %s now", l.Named(), Hundred(m.Left(l)), Hundred(*m.Risk))
	if most := m.ForMoney(); most != nil && *most != *l {
		money = fmt.Sprintf("%s: wrong in %s of 100 then", most.Named(), Hundred(m.Left(most)))
	}
	return next, money
}

// ForMoney is the best item a unit of money, nil where no item that helps has a price.
func (m *Measure) ForMoney() *Learned {
	helping := m.Helping()
	i := slices.IndexFunc(helping, func(l Learned) bool { return l.ForMoney == 1 })
	if i < 0 {
		return nil
	}
	return &helping[i]
}

// mostMeasured is how many items of a claim the terminal tells.
const mostMeasured = 4

// measureRead says how to read what is told of measurements.
const measureRead = "Whoever says of a draw what is likelier of the claim is wrong in so many of 100 draws; a measurement makes that fewer. Without a gauge's error an input is taken as learnt exactly: no gauge does better."

// writeMeasure tells what to measure next.
func (a *Answer) writeMeasure(b *page) {
	var told []*Measure
	for i := range a.Claims {
		if m := a.Next(a.Claims[i].Name); m != nil && *m.Risk > 0 {
			told = append(told, m)
		}
	}
	if len(told) == 0 {
		return
	}
	b.WriteString("\nWHAT TO MEASURE NEXT?\n")
	b.para(measureRead, "  ")
	for _, m := range told {
		b.item(ClaimName(m.Claim) + ", wrong in " + Hundred(*m.Risk) + " of 100: " + m.list())
	}
}

// list names the items that help most.
func (m *Measure) list() string {
	helping := m.Helping()
	if len(helping) == 0 {
		return m.InWords()
	}
	text := ""
	for i := range helping[:min(len(helping), mostMeasured)] {
		if i > 0 {
			text += "; "
		}
		l := &helping[i]
		text += l.Named() + " (" + l.Worth() + ")"
	}
	if l := m.ForMoney(); l != nil {
		text += "; most for the money: " + l.Named()
	}
	return text
}
