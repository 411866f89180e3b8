package record

import (
	"math"

	"proofmass/jobs/files"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// WriteTable writes a row an outcome as Parquet.
func (r *Record) WriteTable(system files.System, path string) error {
	rows := make([]result.RecordRow, 0, len(r.Outcomes))
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		row := result.RecordRow{Study: o.Study, Output: o.Name, Kind: o.Kind, Unit: o.Unit, Value: o.Value, SD: report.OrNull(o.SD),
			MeasuredOn: o.On, Came: o.Came, P05: report.OrNull(o.P05), P50: report.OrNull(o.P50), P95: report.OrNull(o.P95), Inside: math.NaN(),
			Place: report.OrNull(o.Place), CRPS: report.OrNull(o.CRPS), Interval: report.OrNull(o.Interval), Chance: report.OrNull(o.Chance), Brier: report.OrNull(o.Brier),
			Guess: report.OrNull(o.Guess), GuessSD: report.OrNull(o.GuessSD), GuessScore: report.OrNull(o.GuessScore), Sharper: report.OrNull(o.Sharper),
			Announced: report.OrNull(o.Announced), AnnouncedScore: report.OrNull(o.AnnouncedScore)}
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
