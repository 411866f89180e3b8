package jobs

import (
	"bytes"
	"context"
	"encoding/gob"
	"maps"
	"slices"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// joinedKind is the kind under which stands, among the parts, what the rows of a choice say of
// it: with `keep: summary` its files go as soon as it has left the race.
const joinedKind = "joined"

func joinedKey(choice int) result.PartKey { return result.PartKey{Kind: joinedKind, Choice: choice} }

// A joinedChoice is all that tables say of a choice.
type joinedChoice struct {
	Summary []result.SummaryRow
	Claims  []result.ClaimRow
	Chosen  analyse.Chosen
}

// joinChoice is what the rows of a choice say, from its files or as it was kept.
func (j *job) joinChoice(c int) (*joinedChoice, error) {
	if x := j.keptChoice(c); x != nil {
		x.Chosen.Standing = j.analyst.Standing(c)
		return x, nil
	}
	of, x := j.analyst.OfChoice(c), &joinedChoice{}
	var err error
	if x.Summary, err = of.Summary(); err != nil {
		return nil, err
	}
	if len(j.plan.Claims) > 0 {
		if x.Claims, err = of.Claims(); err != nil {
			return nil, err
		}
	}
	x.Chosen, err = j.analyst.Choose(c, x.Summary, x.Claims)
	return x, err
}

func (j *job) keptChoice(c int) *joinedChoice {
	data := j.folder.ReadPart(joinedKey(c), j.parts.sample)
	x := &joinedChoice{}
	if data == nil || gob.NewDecoder(bytes.NewReader(data)).Decode(x) != nil {
		return nil
	}
	return x
}

// dropOut removes the files of choices that have left the race, once what their rows say is
// kept; those of the first stay, which is told of where no choice is better. On a cluster all
// stay until the end: another join may read them.
func (j *job) dropOut(ctx context.Context, in []int) error {
	if j.plan.Study.Keep != "summary" || j.plan.Choosing == nil || j.plan.Study.Indices.Stated || j.options.shared {
		return nil
	}
	files := map[int][]string{}
	for _, r := range j.manifest.Rounds {
		for _, s := range r.Slices {
			if c := int(s.Choice); c > 1 && !j.out[c] && !slices.Contains(in, c) {
				files[c] = append(files[c], s.File)
			}
		}
	}
	leaving := slices.Sorted(maps.Keys(files))
	var behind run.Behind
	for _, c := range leaving {
		err := ctx.Err()
		if err == nil {
			err = j.keepChoice(c, &behind)
		}
		if err != nil {
			_ = behind.Wait()
			return err
		}
	}
	if err := behind.Wait(); err != nil {
		return err
	}
	for _, c := range leaving {
		for _, name := range files[c] {
			if err := j.folder.DropSlice(name); err != nil {
				return err
			}
		}
		j.out[c] = true
	}
	return nil
}

// keepChoice stores what the rows of a choice say, unless that is there.
func (j *job) keepChoice(c int, behind *run.Behind) error {
	if j.keptChoice(c) != nil {
		return nil
	}
	x, err := j.joinChoice(c)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(x); err != nil {
		return err
	}
	pending, err := j.folder.BeginPart(joinedKey(c), j.parts.sample, b.Bytes())
	if err == nil {
		behind.Do(pending.Commit)
	}
	return err
}

// joined reports whether a sample's file is needed no more, since what it says is kept.
func (p *parts) joined(key plan.Key) bool {
	return key.Kind == plan.Sample && key.Choice > 0 && p.folder.ReadPart(joinedKey(key.Choice), p.sample) != nil
}
