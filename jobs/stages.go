package jobs

import (
	"context"
	"fmt"
	"os"

	"proofmass/jobs/result"
)

// given copies the study and every other file read into the folder, so that the
// folder alone repeats the run.
func (j *job) given(context.Context) error {
	for i, f := range j.plan.Study.Files {
		if _, err := j.folder.WriteGiven(givenName(i, f), f.Data); err != nil {
			return err
		}
	}
	return nil
}

// finish removes the parts, which are in the tables now, and the samples where the study
// keeps only summaries. The manifest then lists the round without its slices.
func (j *job) finish(context.Context) error {
	if err := j.folder.DropParts(); err != nil {
		return err
	}
	if j.plan.Study.Keep != "summary" {
		return nil
	}
	var slices []result.SliceFile
	for i := range j.manifest.Rounds {
		slices = append(slices, j.manifest.Rounds[i].Slices...)
		j.manifest.Rounds[i].Drop()
	}
	if err := j.folder.WriteManifest(j.manifest); err != nil {
		return err
	}
	for _, s := range slices {
		if err := os.Remove(j.folder.Path(s.File)); err != nil {
			return fmt.Errorf("keep: summary: %w", err)
		}
	}
	return nil
}
