package plan_test

import (
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/study"
)

// BenchmarkPlan reads and plans the demonstration and the widest study of testdata.
func BenchmarkPlan(b *testing.B) {
	for _, name := range []string{"heron", "everything"} {
		path := "../../testdata/studies/" + name + ".yaml"
		b.Run(name+"/read", func(b *testing.B) {
			for b.Loop() {
				if _, err := study.Read(path, study.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/read and plan", func(b *testing.B) {
			for b.Loop() {
				s, err := study.Read(path, study.Options{})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := plan.New(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
