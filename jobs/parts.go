package jobs

import (
	"sync/atomic"
	"time"

	"proofmass/jobs/files"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
)

// parts keeps what slices gave in the folder, so that a run that was stopped goes on.
type parts struct {
	folder         *result.Folder
	sample, others result.Maker         // files of the sample tell texts of the study
	look           bool                 // parts may be there already
	every          bool                 // keep each one, whatever it takes
	kept           func(plan.Key) error // told of each that was stored; may be nil

	began           time.Time
	making, storing atomic.Int64 // nanoseconds, of all workers
	behind          run.Behind   // flushes
}

// storedFrom is when a run begins to store parts: what is stopped before is made again.
const storedFrom = time.Second

// storingShare bounds what storing may take beside making: a fiftieth. Where slices are
// cheap only some are stored, and the others are made again when the run goes on.
const storingShare = 50

func newParts(folder *result.Folder, s *study.Study, o Options) *parts {
	return &parts{folder: folder, sample: result.Maker{Study: Digest(s), Program: Version}, others: result.Maker{Study: s.NumbersDigest, Program: Version},
		look: o.shared || folder.HasParts(), every: o.shared || o.kept != nil, kept: o.kept, began: time.Now()}
}

// Known is a part that an earlier run, or another process, has left in the folder.
func (p *parts) Known(step *plan.Step, key plan.Key) run.Part {
	if !p.look {
		return nil
	}
	data := p.folder.ReadPart(partKey(key), p.maker(key))
	if data == nil {
		return nil
	}
	part := run.Blank(step)
	if part.UnmarshalBinary(data) != nil {
		return nil
	}
	if file := part.File(); file != nil && !p.folder.HasSlice(result.SliceName(result.SampleKind, key.Round, key.Number), file.Digest) && !p.joined(key) {
		return nil
	}
	return part
}

// Keep stores a part. Workers do not wait until the disk has flushed it, unless too many
// wait so already: then a file of the sample is waited for, and another part is stored but
// not flushed. A kill loses neither; of a file that a power cut left broken its digest tells.
// Where storing takes too long beside making, or the run is young, a part is not stored.
func (p *parts) Keep(key plan.Key, part run.Part, took time.Duration) error {
	if err := p.behind.Err(); err != nil {
		return err
	}
	file := run.FileIn(part)
	var pending *files.Pending
	dear := p.making.Add(int64(took)) < storingShare*p.storing.Load()
	if p.every || !dear && time.Since(p.began) >= storedFrom {
		var err error
		if pending, err = p.begin(key, part); err != nil {
			return err
		}
	}
	last := func() error { return p.commit(key, file, pending) }
	switch {
	case p.kept != nil:
		return last()
	case file != nil || p.every:
		p.behind.Do(last)
	case pending != nil && !p.behind.Try(last):
		return pending.Show()
	}
	return nil
}

// begin writes a part under a temporary name.
func (p *parts) begin(key plan.Key, part run.Part) (*files.Pending, error) {
	began := time.Now()
	defer func() { p.storing.Add(int64(time.Since(began))) }()
	data, err := part.AppendBinary(nil)
	if err != nil {
		return nil, err
	}
	return p.folder.BeginPart(partKey(key), p.maker(key), data)
}

// commit makes what was written last: first the file, then the part that vouches for it.
func (p *parts) commit(key plan.Key, file *run.File, part *files.Pending) error {
	if file != nil {
		if err := file.Commit(); err != nil {
			if part != nil {
				part.Drop()
			}
			return err
		}
	}
	if part != nil {
		if err := part.Commit(); err != nil {
			return err
		}
		if p.kept != nil {
			return p.kept(key)
		}
	}
	return nil
}

func (p *parts) maker(key plan.Key) result.Maker {
	if key.Kind == plan.Sample {
		return p.sample
	}
	return p.others
}

func partKey(k plan.Key) result.PartKey {
	return result.PartKey{Kind: string(k.Kind), Round: k.Round, Choice: k.Choice, Account: k.Account, Number: k.Number}
}
