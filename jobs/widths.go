package jobs

import (
	"context"

	"proofmass/jobs/analyse"
	"proofmass/jobs/run"
)

// widths evaluates the claims with all guessed widths halved and doubled. Of choices, which
// each would take draws of their own, it is not told; nor after what was measured, whose
// weights these draws lack.
func (j *job) widths(ctx context.Context) error {
	if len(j.plan.Facts) > 0 {
		return nil
	}
	halved, changed := j.plan.Widened(0.5)
	doubled, also := j.plan.Widened(2)
	if len(changed)+len(also) == 0 {
		return nil
	}
	w := &analyse.Widths{Rows: run.WidthRows(j.plan.Sample), Changed: append(changed, also...)}
	var err error
	if w.Halved, err = j.runner.Held(ctx, halved); err != nil {
		return err
	}
	if w.Doubled, err = j.runner.Held(ctx, doubled); err != nil {
		return err
	}
	j.analyst.Widths = w
	return nil
}
