package record

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/sensitivity/score"
)

// A Calibration is of all outcomes of one quantity, or of all together: whether as many lie
// inside nine in ten draws as should. Outcomes of one study share its inputs, so of all
// together a study counts once, by the mean of its outcomes.
type Calibration struct {
	Name    string  `json:"name"` // all: of all quantities
	Studies int     `json:"studies"`
	N       int     `json:"outcomes"`
	Inside  float64 `json:"inside"` // how many; of all the sum of the studies' shares
	// How many of that many studies are inside in the middle 95 % of cases, if nine in ten are
	// nine in ten.
	Fewest int `json:"fewest"`
	Most   int `json:"most"`

	Places  []float64 `json:"places"`         // from 0 to 1, ascending; of all: none
	Fifths  []int     `json:"fifths"`         // of the places; uniform where it is calibrated
	Uneven  *float64  `json:"uneven"`         // Cramer-von Mises, from 20 places on
	CRPS    *float64  `json:"crps"`           // the mean; null where units differ, and of all
	Unit    string    `json:"unit"`           // of the CRPS
	Guess   *float64  `json:"guess_crps"`     // the guess's, of the outcomes that have one
	Skill   *float64  `json:"skill"`          // 1 - own mean over the guess's, of the outcomes that have one
	Guessed int       `json:"guessed"`        // how many have one
	Width   *float64  `json:"width_to_guess"` // the mean, geometric
	Said    *float64  `json:"announced_crps"` // the announcement's, of the outcomes that have one
	OfSaid  *float64  `json:"crps_where_announced"`
}

// Chances are the claims with an outcome.
type Chances struct {
	N           int      `json:"n"`
	Held        int      `json:"held"`
	Foretold    float64  `json:"foretold"` // how many were to be expected
	Brier       float64  `json:"brier"`
	Reliability *float64 `json:"reliability"` // of one claim nothing can be told apart: nil
	Resolution  *float64 `json:"resolution"`
	Uncertainty *float64 `json:"uncertainty"`

	Guessed    int      `json:"guessed"`
	Guess      *float64 `json:"guess_brier"`
	OwnGuessed *float64 `json:"brier_where_guessed"`
}

// All is the name of the calibration over all quantities.
const All = "all"

// calibrate goes by the part of a name behind its vehicle, so that studies whose vehicles are
// called otherwise can be taken together.
func (r *Record) calibrate() {
	by := map[string][]*Outcome{}
	var scored []*Outcome
	var said []score.Said
	var claims []*Outcome
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		switch {
		case o.Kind == kindClaim && o.Brier != nil:
			said = append(said, score.Said{Chance: *o.Chance, Held: o.Value == 1})
			claims = append(claims, o)
		case o.Inside != nil:
			name := o.Name[strings.LastIndex(o.Name, ".")+1:]
			by[name], scored = append(by[name], o), append(scored, o)
		}
	}
	r.Claims = chances(said, claims)
	r.Calibration = []Calibration{}
	if len(scored) == 0 {
		return
	}
	together := share(All, scored)
	r.Calibration = append(r.Calibration, together)
	names := make([]string, 0, len(by))
	for name := range by {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		r.Calibration = append(r.Calibration, ofQuantity(name, by[name]))
	}
}

// share counts a study once.
func share(name string, all []*Outcome) Calibration {
	type counted struct {
		study     string
		inside, n int
	}
	var studies []counted
	for _, o := range all {
		at := slices.IndexFunc(studies, func(c counted) bool { return c.study == o.Folder })
		if at < 0 {
			at = len(studies)
			studies = append(studies, counted{study: o.Folder})
		}
		studies[at].n++
		if *o.Inside {
			studies[at].inside++
		}
	}
	c := Calibration{Name: name, Studies: len(studies), N: len(all), Places: []float64{}, Fifths: []int{}}
	for _, s := range studies {
		c.Inside += float64(s.inside) / float64(s.n)
	}
	c.Fewest, c.Most = score.Band(len(studies), nineInTen)
	return c
}

// fewestPlaces are needed to test whether they are uniform.
const fewestPlaces = 20

func ofQuantity(name string, all []*Outcome) Calibration {
	c := share(name, all)
	c.Fifths = make([]int, 5)
	var crps, guess, own, said, ofSaid, width []float64
	for _, o := range all {
		c.Places = append(c.Places, *o.Place)
		c.Fifths[min(4, int(*o.Place*5))]++
		crps = append(crps, *o.CRPS)
		if o.GuessScore != nil {
			guess, own = append(guess, *o.GuessScore), append(own, *o.CRPS)
		}
		if o.Sharper != nil && *o.Sharper > 0 {
			width = append(width, math.Log(*o.Sharper))
		}
		if o.AnnouncedScore != nil {
			said, ofSaid = append(said, *o.AnnouncedScore), append(ofSaid, *o.CRPS)
		}
	}
	slices.SortFunc(c.Places, cmp.Compare)
	if len(c.Places) >= fewestPlaces && c.Studies == c.N {
		c.Uneven = report.Known(score.Uneven(c.Places))
	}
	units := map[string]bool{}
	for _, o := range all {
		units[o.Unit] = true
	}
	if len(units) > 1 {
		return c // no mean of several units
	}
	c.Unit = all[0].Unit
	c.CRPS, c.Guess, c.Said, c.OfSaid = mean(crps), mean(guess), mean(said), mean(ofSaid)
	if c.Guessed = len(guess); c.Guessed > 0 && *c.Guess > 0 {
		c.Skill = report.Known(1 - *mean(own) / *c.Guess)
	}
	if w := mean(width); w != nil {
		c.Width = report.Known(math.Exp(*w))
	}
	return c
}

func chances(said []score.Said, all []*Outcome) *Chances {
	if len(said) == 0 {
		return nil
	}
	b := score.BrierOf(said)
	c := &Chances{N: len(said), Brier: b.Score}
	if c.N > 1 {
		c.Reliability, c.Resolution, c.Uncertainty = &b.Reliability, &b.Resolution, &b.Uncertainty
	}
	var guess, own []float64
	for i, s := range said {
		c.Foretold += s.Chance
		if s.Held {
			c.Held++
		}
		if all[i].GuessScore != nil {
			guess, own = append(guess, *all[i].GuessScore), append(own, *all[i].Brier)
		}
	}
	c.Guessed, c.Guess, c.OwnGuessed = len(guess), mean(guess), mean(own)
	return c
}

// mean is nil of nothing.
func mean(x []float64) *float64 {
	if len(x) == 0 {
		return nil
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return report.Known(sum / float64(len(x)))
}

func square(x float64) float64 { return float64(x * x) }

func hypot(a, b float64) float64 { return math.Sqrt(square(a) + square(b)) }

// uneven reports whether the places are more uneven than luck leaves them in 19 of 20 cases.
func (c *Calibration) uneven() bool { return c.Uneven != nil && *c.Uneven > score.UnevenLimit }
