package estimate

// A Majority is a value that most rows have, if one is that of most; else any value.
type Majority struct {
	Value float64
	votes int
}

// Count is a step of the majority vote of Boyer and Moore (1991, in Automated Reasoning:
// Essays in Honor of Woody Bledsoe, 105-117).
func (m *Majority) Count(v float64) {
	switch {
	case v == m.Value:
		m.votes++
	case m.votes == 0:
		m.Value, m.votes = v, 1
	default:
		m.votes--
	}
}
