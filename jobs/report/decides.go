package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/result"
)

// subject is what a row of indices.parquet speaks of.
type subject struct {
	output string
	of     result.Of
}

// decides lists what claims are of, in the claims' order, then the other outputs,
// then the claims themselves.
func (t *tables) decides(claims []Claim) []Decides {
	claimsOf := map[string][]string{}
	var order []subject
	added := map[subject]bool{}
	add := func(s subject) {
		if !added[s] {
			order, added[s] = append(order, s), true
		}
	}
	for _, c := range claims {
		if c.Of != "" {
			claimsOf[c.Of] = append(claimsOf[c.Of], c.Name)
			add(subject{c.Of, result.OfOutput})
		}
	}
	for i := range t.indices {
		add(subject{t.indices[i].Output, t.indices[i].Of})
	}
	for i := range t.tornado {
		add(subject{t.tornado[i].Output, t.tornado[i].Of})
	}
	all, of := []Decides{}, t.bySubject()
	for _, s := range order {
		d := Decides{Output: s.output, Of: s.of}
		if s.of == result.OfOutput {
			d.Claims = claimsOf[s.output]
		}
		of[s].fill(&d)
		if len(d.Inputs) > 0 {
			all = append(all, d)
		}
	}
	return all
}

// told are the rows of one subject.
type told struct {
	indices []*result.IndexRow
	bars    []*result.BarRow
}

// bySubject sorts the rows of indices and tornado by what they speak of.
func (t *tables) bySubject() map[subject]*told {
	of := map[subject]*told{}
	at := func(s subject) *told {
		if of[s] == nil {
			of[s] = new(told)
		}
		return of[s]
	}
	for i := range t.indices {
		r := &t.indices[i]
		rows := at(subject{r.Output, r.Of})
		if r.Method != result.CannotReach {
			rows.indices = append(rows.indices, r)
		}
	}
	for i := range t.tornado {
		r := &t.tornado[i]
		rows := at(subject{r.Output, r.Of})
		rows.bars = append(rows.bars, r)
	}
	return of
}

// fill joins indices and tornado of one output; nil has none.
func (t *told) fill(d *Decides) {
	if t == nil {
		return
	}
	shares := newShares()
	for _, r := range t.indices {
		d.addFigure(shares, r)
	}
	shares.keepRanked()
	for _, r := range t.bars {
		d.Unit = r.Unit
		d.addBar(shares, r)
	}
	d.Inputs = shares.sorted()
	slices.SortStableFunc(d.Groups, func(a, b Share) int { return cmp.Compare(weight(b), weight(a)) })
}

// shares gathers what is known of each input.
type shares struct {
	all    []Share
	place  map[string]int
	ranked result.Order // the order by which inputs are ranked, the best there is
}

func newShares() *shares { return &shares{place: map[string]int{}} }

func (s *shares) at(input string) *Share {
	if _, ok := s.place[input]; !ok {
		s.place[input] = len(s.all)
		s.all = append(s.all, Share{Input: input})
	}
	return &s.all[s.place[input]]
}

// ranks are the orders by which inputs can be ranked, the better ones later.
var ranks = []result.Order{"", result.WithCompanions, result.FirstOrder, result.TotalOrder, result.ShapleyEffect}

// addFigure takes one row of indices.parquet.
func (d *Decides) addFigure(s *shares, r *result.IndexRow) {
	share, low, high := Known(r.Estimate), Known(r.Low), Known(r.High)
	switch {
	case r.Order == result.SecondOrder:
		d.Pairs = append(d.Pairs, PairShare{r.Input, r.Other, share, low, high})
	case r.Order == result.GroupTotal:
		d.Groups = append(d.Groups, Share{Input: r.Input, Order: r.Order, Share: share, Low: low, High: high})
	case !slices.Contains(ranks, r.Order):
	case r.Order == result.FirstOrder && r.ModelRuns > 0: // by swapping
		s.at(r.Input).First = share
	default:
		in := s.at(r.Input)
		if slices.Index(ranks, r.Order) < slices.Index(ranks, in.Order) {
			return
		}
		in.Order, in.Share, in.Low, in.High = r.Order, share, low, high
		if slices.Index(ranks, r.Order) > slices.Index(ranks, s.ranked) {
			s.ranked = r.Order
		}
	}
}

// keepRanked leaves out inputs that are known by a lesser order than others: of a
// tied group either the group as one or its inputs apart.
func (s *shares) keepRanked() {
	kept := newShares()
	for _, in := range s.all {
		same := in.Order == s.ranked || first(in.Order) && first(s.ranked)
		if same {
			*kept.at(in.Input) = in
		}
	}
	kept.ranked = s.ranked
	*s = *kept
}

// addBar takes one row of tornado.parquet: the form that moves one input alone comes
// before the other.
func (d *Decides) addBar(s *shares, r *result.BarRow) {
	if r.Form == result.OneAtATime {
		d.Swings, d.Spread = Known(r.SumOfSwings), Known(r.Spread)
	}
	if _, there := s.place[r.Input]; !there && s.ranked != "" {
		return
	}
	in := s.at(r.Input)
	in.Turns = in.Turns || r.Shape == result.Turns
	if in.Form == result.OneAtATime {
		return
	}
	in.Form, in.Unit = r.Form, r.InputUnit
	in.InLow, in.InHigh = Known(r.InputLow), Known(r.InputHigh)
	in.AtLow, in.AtHigh = Known(r.AtLow), Known(r.AtHigh)
}

// first reports whether an order is a first-order index, with or without companions.
func first(o result.Order) bool { return o == result.FirstOrder || o == result.WithCompanions }

// sorted are the inputs that do anything, the largest first.
func (s *shares) sorted() []Share {
	slices.SortStableFunc(s.all, func(a, b Share) int { return cmp.Compare(weight(b), weight(a)) })
	return slices.DeleteFunc(s.all, func(s Share) bool { return weight(s) <= 0 })
}

// weight orders inputs: by share where there is one, else by swing.
func weight(s Share) float64 {
	switch {
	case s.Share != nil:
		return *s.Share
	case s.AtLow != nil && s.AtHigh != nil:
		return math.Abs(*s.AtHigh - *s.AtLow)
	}
	return 0
}

// widestShare is the largest half-width of the shares of outputs, nil without one.
func widestShare(all []Decides) *float64 {
	var widest *float64
	for _, d := range all {
		for _, in := range d.Inputs {
			if d.Of != result.OfOutput || in.Low == nil || in.High == nil {
				continue
			}
			if half := (*in.High - *in.Low) / 2; widest == nil || half > *widest {
				widest = &half
			}
		}
	}
	return widest
}

// hangOn says in words what decides each claim: the yes or no where it is often
// enough both, else how far inside the claim draws lie.
func (t *tables) hangOn(a *Answer) {
	for i := range a.Claims {
		c := &a.Claims[i]
		find := func(of result.Of) []Share {
			k := slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Output == c.Name && d.Of == of })
			if k < 0 {
				return nil
			}
			return a.Decides[k].Inputs
		}
		if holds := find(result.OfHolds); often(*c) && len(holds) > 0 {
			c.HangsOn, c.DecidedOf = hangsOn("Whether "+claimName(*c)+" holds", holds), result.OfHolds
		} else if margin := find(result.OfMargin); len(margin) > 0 {
			c.HangsOn, c.DecidedOf = hangsOn("How clearly "+claimName(*c)+" holds or fails", margin), result.OfMargin
		} else if len(holds) > 0 {
			c.HangsOn = "Draws are too seldom both inside and outside " + claimName(*c) + " to tell what decides it."
		}
	}
}

// decider is what the words on a claim are of, nil where they are of nothing.
func (a *Answer) decider(c Claim) *Decides {
	i := slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Output == c.Name && d.Of == c.DecidedOf })
	if i < 0 {
		return nil
	}
	return &a.Decides[i]
}

// often reports whether a claim both holds and fails in enough draws. Of one that
// hardly ever does, every input seems to decide: it takes them all.
func often(c Claim) bool { return c.Chance >= 0.02 && c.Chance <= 0.98 }

// What is worth a word: the first few inputs with at least this share, and the
// first whatever it has.
const (
	worthAWord = 0.10
	mostWords  = 3
)

// hangsOn is a line such as "Whether further holds hangs on drag_coefficient (62 %)
// and pack_mass (21 %)."
func hangsOn(what string, inputs []Share) string {
	words := deciding(inputs)
	if len(words) == 0 {
		return ""
	}
	return what + " hangs on " + Listed(words) + "."
}

// deciding are the few inputs that are worth a word, each with its share.
func deciding(inputs []Share) []string {
	var words []string
	for _, in := range inputs {
		if in.Share != nil && len(words) < mostWords && (len(words) == 0 || *in.Share >= worthAWord) {
			words = append(words, fmt.Sprintf("%s (%.0f %%)", in.Input, 100**in.Share))
		}
	}
	return words
}

func claimName(c Claim) string {
	if c.Together() {
		return "all of it"
	}
	return c.Name
}
