package jobs

import (
	"context"
	"fmt"
	"math"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// accounts tells of rival accounts, each of which has the same points of the design as the
// first: that one is what all other tables are of.
func (j *job) accounts(ctx context.Context) error {
	of := j.plan.Study.Accounts
	if len(of) == 0 {
		return nil
	}
	told := &analyse.Told{Outputs: j.plan.ToldColumns(), Claims: j.plan.Claims}
	var all []analyse.Account
	for i := range of {
		a, err := j.account(ctx, &of[i], told)
		if err != nil {
			return fmt.Errorf("account %s: %w", of[i].Name, err)
		}
		all = append(all, a)
	}
	rows, claims, outputs, err := j.analyst.Accounts(told, all)
	if err != nil {
		return err
	}
	if err := writeRows(j, result.Accounts, rows); err != nil {
		return err
	}
	if err := writeRows(j, result.AccountClaims, claims); err != nil {
		return err
	}
	return writeRows(j, result.AccountOutputs, outputs)
}

// account evaluates one of them.
func (j *job) account(ctx context.Context, of *study.Account, told *analyse.Told) (analyse.Account, error) {
	a := analyse.Account{Name: of.Name, Source: of.Free.Source, Weight: of.Weight, Halved: math.NaN(), Doubled: math.NaN()}
	var err error
	if a.Plan, err = plan.New(of.Study); err != nil {
		return a, err
	}
	if a.Rows, err = j.runner.FirstRows(ctx, a.Plan, j.plan.AccountRows(), told.Wanted(a.Plan)); err != nil || len(a.Plan.Facts) == 0 {
		return a, err
	}
	for _, w := range []struct {
		factor float64
		to     *float64
	}{{0.5, &a.Halved}, {2, &a.Doubled}} {
		wide, _ := a.Plan.Widened(w.factor)
		h, err := j.runner.Holding(ctx, wide)
		if err != nil {
			return a, err
		}
		*w.to = h.Evidence
	}
	return a, nil
}
