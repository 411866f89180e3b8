package report

import (
	"fmt"
	"strings"
)

// Told says which schedules were driven over fewer steps, and how close that is.
func (r *Reduced) Told() string {
	var lists []string
	for _, s := range r.Schedules {
		lists = append(lists, fmt.Sprintf("%d of %d steps stand for all of %s", s.Points, s.Steps, s.Schedule))
	}
	told := fmt.Sprintf("%s, with weights. Of %s energies %s were computed over all steps too: the worst differs by %.1g of itself (1e-9 is allowed)",
		strings.Join(lists, ", "), Grouped(r.Evaluations), Grouped(r.Checked), r.Worst)
	if r.Outside > 0 {
		told += fmt.Sprintf("; %s cars with unusual numbers were driven over all steps", Grouped(r.Outside))
	}
	if r.Redone > 0 {
		told += fmt.Sprintf("; in %s slices one differed by more, and all of their draws were computed again over all steps", Grouped(r.Redone))
	}
	return told + `. "exact: yes" in the study takes all steps`
}
