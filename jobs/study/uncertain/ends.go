package uncertain

import (
	"regexp"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
)

var endsText = regexp.MustCompile(`^([0-9.]+) *- *([0-9.]+) *%$`)

// peaked reads [low, mode, high], whose ends are limits or, with `ends` beside it,
// percentiles.
func peaked(what string, limits func(low, mode, high float64) (marginal.Marginal, error),
	percentiles func(low, mode, high, p, q float64) (marginal.Marginal, error)) func(r *item, v source.Field) bool {
	return func(r *item, v source.Field) bool {
		text := what + " from %s over %s to %s"
		of := func(x []float64) (marginal.Marginal, error) { return limits(x[0], x[1], x[2]) }
		if f, stated := r.parts["ends"]; stated {
			p, q, ok := ends(f)
			if !ok {
				return false
			}
			text += ", which are percentiles (ends " + strings.ReplaceAll(source.Printable(f.Raw(), 30), "%", "%%") + ")"
			of = func(x []float64) (marginal.Marginal, error) { return percentiles(x[0], x[1], x[2], p, q) }
		}
		return ordered(3, false, text, of)(r, v)
	}
}

// ends reads which percentiles low and high are.
func ends(f source.Field) (p, q float64, ok bool) {
	const shape = "ends are two percentiles, one below and one above 50: 5-95 %"
	text, ok := f.Text(shape)
	if !ok {
		return 0, 0, false
	}
	w := endsText.FindStringSubmatch(strings.TrimSpace(text))
	if w == nil {
		f.Err(f.What(), shape)
		return 0, 0, false
	}
	low, err1 := unit.ParseNumber(w[1])
	high, err2 := unit.ParseNumber(w[2])
	if err1 != nil || err2 != nil || low <= 0 || low >= 50 || high <= 50 || high >= 100 {
		f.Err(f.What(), shape)
		return 0, 0, false
	}
	return low / 100, high / 100, true
}
