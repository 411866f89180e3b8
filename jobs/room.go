package jobs

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"proofmass/jobs/files"
	"proofmass/jobs/plan"
)

// SampleBytes is about what the rows of a plan take in samples/, those that a growing
// sample begins with, or all of choices none of which is dropped. The rows of `keep: summary` lie there too until the run ends.
func SampleBytes(p *plan.Plan) int64 {
	const (
		fixed = 3   // columns in front of the stored ones
		chunk = 400 // what a file says of each of its columns: texts, statistics, pages
	)
	columns := int64(len(p.StoredColumns()) + fixed)
	if p.Choosing != nil {
		return columns*8*int64(p.ChoiceRows()) + chunk*columns*int64(p.ChoiceSlices())
	}
	return columns * (8*int64(p.Sample.Rows) + chunk*int64(len(p.Sample.Slices)))
}

// fits refuses a run whose rows surely do not fit on the disk that will hold the folder.
// free tells the bytes free there; where it does not know, nothing is refused. What an
// unfinished result holds already counts as room.
func fits(p *plan.Plan, o Options, free func(string) (bytes int64, known bool)) error {
	folder, rows, need := o.Out, p.Sample.Rows, SampleBytes(p)
	if p.Choosing != nil { // of which some may be dropped
		rows = p.LeastChoiceRows()
		need = int64(float64(need) * float64(rows) / float64(p.ChoiceRows()))
	}
	if o.Compress { // to how much, only the rows tell; a study's constants pack to nothing
		need /= 2
	}
	there, known := free(nearest(folder))
	if !known {
		return nil
	}
	there += held(filepath.Join(folder, "samples"))
	there += held(filepath.Join(folder, ".proofmass-next"))
	if need/20*19 <= there { // the forecast is right to a few hundredths
		return nil
	}
	return &UsageError{fmt.Errorf("--out %s: %d rows take about %d MB on the disk, and %d MB are free; give fewer --rows, or a folder on another disk",
		folder, rows, need>>20+1, there>>20)}
}

// nearest is the folder, or the first above it that exists.
func nearest(folder string) string {
	for {
		if _, err := os.Stat(folder); !errors.Is(err, fs.ErrNotExist) || filepath.Dir(folder) == folder {
			return folder
		}
		folder = filepath.Dir(folder)
	}
}

// held is the size of the files in a folder.
func held(folder string) (bytes int64) {
	_ = filepath.WalkDir(folder, func(_ string, e fs.DirEntry, err error) error {
		if err == nil && e.Type().IsRegular() {
			if info, err := e.Info(); err == nil {
				bytes += info.Size()
			}
		}
		return nil
	})
	return bytes
}

// ChoiceBytes is about what the tables of a row a choice take more than those of one.
func ChoiceBytes(p *plan.Plan) int64 {
	if p.Choosing == nil {
		return 0
	}
	const (
		summary, claim = 380, 300 // a row, its texts among them
		chosen, figure = 120, 24
	)
	each := summary*int64(len(p.StoredColumns())) + claim*int64(len(p.Claims)) + chosen + figure*int64(len(p.Claims)+4*len(p.Index.Outputs)+len(p.Choosing.Figures))
	return each * int64(p.Choosing.Count)
}

// NoRoom reports whether a file of a result could not grow: a full disk, a quota, a limit.
func NoRoom(err error) bool {
	return errors.Is(err, files.ErrWrite) && (errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG))
}
