package report

import (
	"fmt"
	"slices"

	"proofmass/jobs/result"
)

// A Rare is how far populations came that climbed towards a claim which next to no draw holds,
// or towards where one fails that nearly every draw holds.
type Rare struct {
	Claim   string         `json:"claim"`
	Side    result.Turning `json:"side"`
	Reached bool           `json:"reached"`
	Used    bool           `json:"used"` // for the claim's chance: the plain draws do not contradict it
	Runs    int64          `json:"model_runs"`
	Unit    string         `json:"unit"` // of the levels
	Levels  []RareLevel    `json:"levels"`
}

// A RareLevel is one on the way.
type RareLevel struct {
	At          *float64 `json:"at"` // margin; null where the claim turns
	Chance      float64  `json:"chance"`
	Low         float64  `json:"chance_low"`
	High        float64  `json:"chance_high"`
	Populations int64    `json:"populations"`
	Taken       *float64 `json:"taken"`
}

func rareOf(rows []result.RareRow) []Rare {
	var all []Rare
	for i := range rows {
		r := &rows[i]
		if len(all) == 0 || all[len(all)-1].Claim != r.Claim {
			all = append(all, Rare{Claim: r.Claim, Side: r.Turning, Unit: r.Unit, Runs: r.ModelRuns})
		}
		x := &all[len(all)-1]
		x.Levels = append(x.Levels, RareLevel{At: Known(r.At), Chance: r.Chance, Low: r.Low, High: r.High, Populations: r.Populations, Taken: Known(r.Taken)})
		x.Reached, x.Used = r.Reached == 1, r.Used == 1
	}
	return all
}

// last is the level that the populations came to.
func (r *Rare) last() *RareLevel { return &r.Levels[len(r.Levels)-1] }

// InWords says how rare it is, and how that is known.
func (r *Rare) InWords() string {
	side, l := "holds", r.last()
	if r.Side == result.TurnsToFail {
		side = "fails"
	}
	runs := fmt.Sprintf("by %s, %s model runs", Counted(len(r.Levels), "level"), Grouped(r.Runs))
	var text string
	if r.Reached {
		text = fmt.Sprintf("%s in %s draws (1 in %s to 1 in %s), %s", side, Often(l.Chance), Grouped(roundDown(1/l.High)), oneIn(l.Low), runs)
	} else {
		text = fmt.Sprintf("%s in at most 1 in %s draws: the populations came no nearer, %s", side, Grouped(roundDown(1/l.High)), runs)
	}
	if !r.Used {
		text += "; the plain draws contradict this, so that their own chance stands: another part of what is believed may hold it, which no population found"
	}
	return text
}

// oneIn is the far end of an interval: of none "none".
func oneIn(chance float64) string {
	if chance <= 0 {
		return "none"
	}
	return Grouped(twoDigits(1 / chance))
}

// Rare reports whether the chance is that of populations which climbed to the claim.
func (c *Claim) Rare() bool { return c.Method == string(result.RareChance) }

// rarely says the chance of a rare claim.
func (c *Claim) rarely() string {
	const by = ", by draws that climb towards it"
	switch {
	case c.Chance == 0 && c.High != nil && *c.High > 0:
		return "next to no draw holds it: at most 1 in " + Grouped(roundDown(1 / *c.High)) + by
	case c.Chance == 1 && c.Low != nil && *c.Low < 1:
		return "next to every draw holds it: all but at most 1 in " + Grouped(roundDown(1/(1-*c.Low))) + by
	case c.Low == nil || c.High == nil:
		return Often(c.Chance) + " draws hold it" + by
	}
	return ratioOf(c.Chance, *c.Low, *c.High) + " draws hold it" + by
}

// writeRare tells how rare what is rare is.
func (a *Answer) writeRare(b *page) {
	if len(a.Rare) == 0 {
		return
	}
	b.WriteString("\nHOW RARE IS IT?\n")
	b.para("Claims that fewer than 50 draws hold, or fail: 16 populations of draws climb towards them, a tenth of them going on at each level.", "  ")
	for i := range a.Rare {
		r := &a.Rare[i]
		b.item(r.Claim + " " + r.InWords())
	}
}

// rareCautions are of climbs that the plain draws contradict, and of few populations.
func (a *Answer) rareCautions() (all []string) {
	for i := range a.Rare {
		r := &a.Rare[i]
		switch {
		case !r.Used:
			all = append(all, fmt.Sprintf("The draws that climbed towards %s say another chance than the plain ones, whose chance stands: %s %s.", r.Claim, r.Claim, r.InWords()))
		case r.Reached && r.last().Populations < fewestPopulations:
			all = append(all, fmt.Sprintf("Only %d of 16 populations of draws came to %s: its chance is known less well than its interval says.", r.last().Populations, r.Claim))
		}
	}
	return all
}

// fewestPopulations must come to a rare event for their spread to tell how sure its chance is.
// Common practice, no source.
const fewestPopulations = 8

// RareOf is the climb towards a claim, nil where there is none.
func (a *Answer) RareOf(claim string) *Rare {
	i := slices.IndexFunc(a.Rare, func(r Rare) bool { return r.Claim == claim })
	if i < 0 {
		return nil
	}
	return &a.Rare[i]
}
