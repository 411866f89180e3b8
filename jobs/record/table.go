package record

import (
	"math"

	"proofmass/jobs/files"
	"proofmass/jobs/result"
)

// WriteTable writes a row an outcome as Parquet.
func (r *Record) WriteTable(system files.System, path string) error {
	rows := make([]result.RecordRow, 0, len(r.Outcomes))
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		row := result.RecordRow{Study: o.Study, Output: o.Name, Kind: o.Kind, Unit: o.Unit, Value: o.Value, SD: orNull(o.SD),
			MeasuredOn: o.On, Came: o.Came, P05: orNull(o.P05), P50: orNull(o.P50), P95: orNull(o.P95), Inside: math.NaN(),
			Place: orNull(o.Place), CRPS: orNull(o.CRPS), Interval: orNull(o.Interval), Chance: orNull(o.Chance), Brier: orNull(o.Brier),
			Guess: orNull(o.Guess), GuessSD: orNull(o.GuessSD), GuessScore: orNull(o.GuessScore), Sharper: orNull(o.Sharper),
			Announced: orNull(o.Announced), AnnouncedScore: orNull(o.AnnouncedScore)}
		if o.Inside != nil {
			row.Inside = 0
			if *o.Inside {
				row.Inside = 1
			}
		}
		for _, p := range r.Predictions {
			if p.Folder == o.Folder {
				row.Folder, row.Digest, row.Predicted = p.Folder, p.Digest, p.Ended.UTC().Format("2006-01-02T15:04:05Z")
			}
		}
		rows = append(rows, row)
	}
	return result.WriteRecord(system, path, rows)
}

func orNull(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}
