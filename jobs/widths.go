package jobs

import (
	"context"

	"proofmass/jobs/analyse"
)

// guesses tells of a study without choices how far guessed widths move its claims' chances.
func (j *job) guesses(ctx context.Context) error {
	if widths, _ := j.plan.Beside(); widths == 0 {
		return nil
	}
	return j.view.widths(ctx)
}

// widths evaluates the claims with all guessed widths halved and doubled, what was measured
// taken in anew.
func (v view) widths(ctx context.Context) error {
	halved, changed := v.plan.Widened(0.5)
	doubled, also := v.plan.Widened(2)
	if len(changed)+len(also) == 0 {
		return nil
	}
	w := &analyse.Widths{Changed: append(changed, also...)}
	var err error
	if w.Halved, err = v.runner.Holding(ctx, halved); err != nil {
		return err
	}
	if w.Doubled, err = v.runner.Holding(ctx, doubled); err != nil {
		return err
	}
	v.analyst.Widths = w
	return nil
}
