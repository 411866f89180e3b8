package jobs

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// A flipped bit at any position of a stored part, and of the file that a part vouches for,
// is found: the slice counts as not made. Of a large file some positions are tried.
func TestFlippedBytesOfSlicesAreFound(t *testing.T) {
	path, out := writeSteps(t), filepath.Join(t.TempDir(), "out")
	_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error {
		if k.Kind == plan.Pairs {
			return errEnded
		}
		return nil
	}})
	if !errors.Is(err, errEnded) {
		t.Fatal(err)
	}
	s, err := Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	folder, _, err := result.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	store := newParts(folder, s, Options{shared: true})
	sample, err := p.Next(&plan.Joined{})
	if err != nil {
		t.Fatal(err)
	}
	tornado, err := p.Next(&plan.Joined{Rounds: map[plan.Kind]int{plan.Sample: p.MostRounds()}})
	if err != nil || tornado.Kind != plan.Tornado {
		t.Fatal(err, tornado.Kind)
	}
	key := plan.Key{Kind: plan.Sample, Number: 3}
	flips(t, filepath.Join(out, "work/sample/0000/slice-00000003.part"), 0, func() bool { return store.Known(sample, key) != nil })
	flips(t, filepath.Join(out, "work/tornado/0000/slice-00000000.part"), 0, func() bool { return store.Known(tornado, plan.Key{Kind: plan.Tornado}) != nil })
	flips(t, filepath.Join(out, "samples/0000/slice-00000003.parquet"), 300, func() bool { return store.Known(sample, key) != nil })
}

// flips turns one bit in each byte in turn, or in so many of them.
func flips(t *testing.T, path string, some int, known func() bool) {
	t.Helper()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !known() {
		t.Fatalf("%s is not known though it is whole", path)
	}
	random := rand.New(rand.NewPCG(3, 4))
	positions := random.Perm(len(whole))
	if some > 0 {
		positions = positions[:some]
	}
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, at := range positions {
		for _, b := range []byte{whole[at] ^ 1<<random.IntN(8), whole[at]} {
			if _, err := file.WriteAt([]byte{b}, int64(at)); err != nil {
				t.Fatal(err)
			}
			if known() != (b == whole[at]) {
				t.Fatalf("%s: byte %d is %#x, was %#x: known %t", path, at, b, whole[at], known())
			}
		}
	}
}
