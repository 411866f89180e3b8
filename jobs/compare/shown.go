package compare

import (
	"proofmass/jobs/report"
	"proofmass/jobs/shown"
)

// shown is the output in the unit that is asked for, itself where none is.
func (x *Output) shown(u shown.Units) *Output {
	c, ok := u.Of(x.Name, x.Unit)
	if !ok {
		return x
	}
	y := *x
	y.Unit = c.Unit()
	y.Before, y.After = x.Before.With(c), x.After.With(c)
	y.Middle, y.Mean, y.Width = x.Middle.shown(c, c.Value), x.Mean.shown(c, c.Value), x.Width.shown(c, c.Difference)
	return &y
}

// shown converts a change of a figure whose values are converted by value.
func (x *Change) shown(c shown.Conversion, value func(float64) float64) Change {
	y := Change{Before: report.Converted(x.Before, value), After: report.Converted(x.After, value),
		By: report.Converted(x.By, c.Difference), Draws: report.Converted(x.Draws, c.Difference)}
	for _, cause := range x.Causes {
		y.Causes = append(y.Causes, Cause{cause.Cause, c.Difference(cause.By), report.Converted(cause.Low, c.Difference), report.Converted(cause.High, c.Difference)})
	}
	return y
}
