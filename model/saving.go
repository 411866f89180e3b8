package model

// A Saving is what the evaluations of one goroutine's workers save work by, and what they
// tell of it. What it holds is known to them and to who made it.
type Saving interface {
	SetExact(exact bool) // evaluate without saving, until told otherwise
	Seen() Seen          // since it was asked before
}

// Seen is how well saving went.
type Seen struct {
	Evaluations int64   // that might have been saved
	Outside     int64   // of them, not saved: outside the bounds for which it is right
	Checked     int64   // of them, made without saving too
	Missed      int64   // of these, too far off
	Worst       float64 // relative error of these
}

// Add adds what was seen elsewhere.
func (s *Seen) Add(more Seen) {
	s.Evaluations += more.Evaluations
	s.Outside += more.Outside
	s.Checked += more.Checked
	s.Missed += more.Missed
	s.Worst = max(s.Worst, more.Worst)
}

// With returns the program for workers that save by s. They belong to one goroutine.
func (p *Program) With(s Saving) *Program {
	q := *p
	q.saving = s
	return &q
}
