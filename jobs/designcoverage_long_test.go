//go:build long

package jobs_test

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"proofmass/sensitivity/estimate"
)

// TestDesignCoverage: of 500 seeded runs, how many intervals of the mean, the 5th,
// 50th and 95th percentile and a chance of 0.02 hold the true value, for every design
// and function. With a chance of 0.95 each, fewer than 458 come in 0.05 % of cases
// (binomial), 3.5 % over all 75 counts. Seeds are fixed, so it passes always or
// never. More than 490 (0.02 %) are allowed only where the method says that it is
// conservative: as if the rows of a design that is not random were independent.
func TestDesignCoverage(t *testing.T) {
	const trials, fewest, most = 500, 458, 490
	var lock sync.Mutex
	var lines []string
	eachDesign(t, func(design string, k *known) {
		rows := 16384
		if design == "latin_low_correlation" {
			rows = 1600
		}
		var scratch estimate.Scratch
		var inside [5]int
		methods := map[string]int{}
		for seed := range trials {
			y, d := drawn(t, k, design, uint64(1000+seed), rows)
			s := describe(t, y, d, &scratch)
			c, err := estimate.Chance(held(y, d, k.limit), d.Independent, estimate.Options{})
			if err != nil {
				t.Error(err)
				return
			}
			methods[s.Method]++
			methods["chance: "+c.Method]++
			for j, v := range []struct {
				estimate.Interval
				truth float64
			}{{s.MeanInterval, k.mean}, {s.P05Interval, k.p05}, {s.P50Interval, k.p50}, {s.P95Interval, k.p95}, {c.Interval, 0.02}} {
				if v.Low <= v.truth && v.truth <= v.High {
					inside[j]++
				}
			}
		}
		lock.Lock()
		defer lock.Unlock()
		lines = append(lines, fmt.Sprintf("| %-8s | %-21s | %6d | %v | %v", k.name, design, rows, inside, methods))
		for j, n := range inside {
			if n < fewest {
				t.Errorf("%s, %s: interval %d holds the true value in %d of %d runs, fewest allowed %d", design, k.name, j, n, trials, fewest)
			}
			exact := design == "random" || j == 0 || j < 4 && methods[estimate.MethodReplicates] == trials ||
				j == 4 && methods["chance: "+estimate.MethodReplicates] == trials
			if n > most && exact {
				t.Errorf("%s, %s: interval %d holds the true value in %d of %d runs, and no method says that it is conservative", design, k.name, j, n, trials)
			}
		}
	})
	slices.Sort(lines)
	for _, line := range lines {
		t.Log(line)
	}
}
