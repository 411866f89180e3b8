package plan

import (
	"fmt"
	"strings"
)

// senses are claims whose condition reads the other way from what makers announce of
// such a quantity: a lighter car announced as 4 % instead of -4 %, a consumption that is
// to be at least so much.
func (p *Plan) senses() []string {
	var w []string
	for _, c := range p.Study.Claims {
		name, relative := c.Of, false
		for _, ending := range []string{"_change", "_difference"} {
			if cut, found := strings.CutSuffix(c.Of, ending); found {
				name, relative = cut, true
			}
		}
		q, known := p.Study.Quantity(name)
		if c.Way == 0 || !known || q.Better == 0 || q.Better == c.Way {
			continue
		}
		usual := "more"
		if q.Better < 0 {
			usual = "less"
		}
		instead := "sense: at_least"
		switch {
		case c.Sense == "at_least" && relative:
			instead = fmt.Sprintf("announced: %.10g %s", c.AnnouncedIn.FromSI(-c.Announced), c.AnnouncedIn)
		case c.Sense == "at_least":
			instead = "sense: at_most"
		}
		w = append(w, fmt.Sprintf("The claim %s holds where %s, yet %s of it is what is usually announced. If that was meant, write %s.", c.Name, c.Words, usual, instead))
	}
	return w
}
