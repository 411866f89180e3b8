//go:build unix

package inspect

import (
	"path/filepath"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/study"
)

// BenchmarkForecast tells the processor time of runs with one worker over what check says of
// it, and the memory that it says.
func BenchmarkForecast(b *testing.B) {
	for _, name := range []string{"heron", "certified-car", "core-bond", "fewer-cells", "trade-space", "van-cells"} {
		b.Run(name, func(b *testing.B) {
			for range b.N {
				path := "../../testdata/studies/" + name + ".yaml"
				said, err := CheckFile(path, study.Options{}, 1)
				if err != nil {
					b.Fatal(err)
				}
				before := spent()
				if _, err := jobs.Run(b.Context(), path, jobs.Options{Out: filepath.Join(b.TempDir(), "out"), Workers: 1}); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric((spent()-before).Seconds()/said.Seconds, "came/said")
			}
		})
	}
}
