package report

import (
	"cmp"
	"fmt"
	"slices"

	"proofmass/jobs/result"
)

// Readings are what the claims could mean, in every combination of their readings.
type Readings struct {
	Combinations []Combination `json:"combinations"` // the first as stated
	Best         int           `json:"best"`         // in which all claims hold together most often
}

// A Combination is one reading of each claim.
type Combination struct {
	Claims []ReadClaim `json:"claims"`
	Chance *float64    `json:"chance"` // that all hold in the same draw
	Low    *float64    `json:"low"`
	High   *float64    `json:"high"`
	Held   int64       `json:"held"`
	Rows   int64       `json:"rows"`
}

// A ReadClaim is a claim in one of its readings.
type ReadClaim struct {
	Claim  string   `json:"claim"`
	Of     string   `json:"of"`
	Text   string   `json:"text"`
	Chance *float64 `json:"chance"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Held   int64    `json:"held"`
	Rows   int64    `json:"rows"`
}

func readingsOf(rows []result.ReadingRow) *Readings {
	if len(rows) == 0 {
		return nil
	}
	all := &Readings{}
	var c Combination
	for i := range rows {
		r := &rows[i]
		if r.Claim != "" {
			c.Claims = append(c.Claims, ReadClaim{r.Claim, r.Of, r.Text, Known(r.Chance), Known(r.Low), Known(r.High), r.Held, r.Rows})
			continue
		}
		c.Chance, c.Low, c.High, c.Held, c.Rows = Known(r.Chance), Known(r.Low), Known(r.High), r.Held, r.Rows
		all.Combinations = append(all.Combinations, c)
		c = Combination{}
	}
	for i := range all.Combinations {
		if all.Combinations[i].often() > all.Combinations[all.Best].often() {
			all.Best = i
		}
	}
	return all
}

// often is how often all claims hold so read; weighted rows count as much as they weigh.
func (c *Combination) often() float64 {
	if c.Chance == nil {
		return 0
	}
	return *c.Chance
}

// oftenRead says how often something holds so read.
func oftenRead(held, rows int64, chance, low, high *float64) string {
	switch {
	case rows == 0 || chance == nil:
		return "there are no draws"
	case held == 0:
		return "no draw holds it"
	case held == rows:
		return "every draw holds it"
	case low == nil || high == nil:
		return Hundred(*chance) + " of 100 draws hold it"
	}
	return ratioOf(*chance, *low, *high) + " draws hold it"
}

// Told says in a sentence which combination is the most compatible one, and how many were
// tried to find it.
func (r *Readings) Told() string {
	best := &r.Combinations[r.Best]
	tried := fmt.Sprintf("Of %d combinations of what the claims could mean", len(r.Combinations))
	if best.Held == 0 {
		return tried + " none has a draw in which all hold."
	}
	how := oftenRead(best.Held, best.Rows, best.Chance, best.Low, best.High)
	if n := r.equallyGood(); n > 0 {
		return fmt.Sprintf("%s they hold together equally often in %s: %s.", tried, ofThem(n+1, len(r.Combinations)), how)
	}
	if r.Best == 0 {
		return fmt.Sprintf("%s they hold together most often as stated: %s.", tried, how)
	}
	var read []string
	for i, c := range best.Claims {
		if c.Of != r.Combinations[0].Claims[i].Of {
			read = append(read, c.Claim+" as "+c.Of)
		}
	}
	return fmt.Sprintf("%s they hold together most often with %s: %s.", tried, Listed(read), how)
}

// ofThem is how many of so many, in words.
func ofThem(n, of int) string {
	switch {
	case n < of:
		return fmt.Sprintf("%d, less often in the others", n)
	case of == 2:
		return "both"
	}
	return "all of them"
}

// equallyGood counts the combinations besides the best one in which all hold just as often.
func (r *Readings) equallyGood() (n int) {
	for i := range r.Combinations {
		if i != r.Best && r.Combinations[i].often() == r.Combinations[r.Best].often() {
			n++
		}
	}
	return n
}

// Read are the readings of the claims that have more than one, each once.
func (r *Readings) Read() []*ReadClaim {
	var read []*ReadClaim
	for k := range r.Combinations[0].Claims {
		seen := map[string]bool{}
		for i := range r.Combinations {
			if c := &r.Combinations[i].Claims[k]; !seen[c.Of] && r.hasOthers(c.Claim) {
				seen[c.Of] = true
				read = append(read, c)
			}
		}
	}
	return read
}

// InWords says what was read and how often it holds.
func (c *ReadClaim) InWords() string {
	return fmt.Sprintf("%s, if %s: %s", c.Claim, c.Text, oftenRead(c.Held, c.Rows, c.Chance, c.Low, c.High))
}

// Compatible are the combinations in words, the one that holds most often first.
func (r *Readings) Compatible() []string {
	order := make([]*Combination, len(r.Combinations))
	for i := range order {
		order[i] = &r.Combinations[i]
	}
	slices.SortStableFunc(order, func(x, y *Combination) int { return cmp.Compare(y.often(), x.often()) })
	told := make([]string, len(order))
	for i, c := range order {
		var read []string
		for _, x := range c.Claims {
			if r.hasOthers(x.Claim) {
				read = append(read, x.Claim+" as "+x.Of)
			}
		}
		told[i] = Listed(read) + ": " + oftenRead(c.Held, c.Rows, c.Chance, c.Low, c.High)
	}
	return told
}

// mostCombinations is how many combinations the terminal tells.
const mostCombinations = 8

// writeReadings tells each reading's chance, then the combinations that are most compatible.
func (a *Answer) writeReadings(b *page) {
	r := a.Readings
	if r == nil {
		return
	}
	b.WriteString("\nWHAT COULD BE MEANT?\n")
	for _, c := range r.Read() {
		b.item(c.InWords())
	}
	b.para(r.Told(), "  ")
	told := r.Compatible()
	for _, line := range told[:min(len(told), mostCombinations)] {
		b.item(line)
	}
	if rest := len(told) - mostCombinations; rest > 0 {
		b.item(Counted(rest, "more combination") + ": readings.parquet")
	}
}

// hasOthers reports whether a claim has more than one reading.
func (r *Readings) hasOthers(claim string) bool {
	of := map[string]bool{}
	for i := range r.Combinations {
		for _, c := range r.Combinations[i].Claims {
			if c.Claim == claim {
				of[c.Of] = true
			}
		}
	}
	return len(of) > 1
}
