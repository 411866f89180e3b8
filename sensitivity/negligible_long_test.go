//go:build long

package sensitivity

import (
	"strconv"
	"testing"
)

func TestEffectsLimitLong(t *testing.T) { effectsLimit(t, 1000, 64, 256) }

func TestNegligibleLong(t *testing.T) { negligible(t, 300) }

// The interval of mu* holds the mean of 2^18 rows, whose own error is 2 % to 3 % of
// the half-widths, for every input. The limit is that of coverage_test.go.
func TestEffectsMeanAbsoluteLong(t *testing.T) {
	const trials = 300
	for _, fn := range []testFunction{ishigami(), testFunctions()[2], morris()} {
		exact := screened(fn, 1<<40, 1<<18, replicates).Results(0.95)[0]
		for _, n := range []int{64, 256} {
			hits := tally{}
			for trial := range trials {
				for i, e := range screened(fn, uint64(trial), n, replicates).Results(0.95)[0] {
					hits.add("x"+strconv.Itoa(i+1), e.MeanAbsolute.Interval, exact[i].MeanAbsolute.Estimate)
				}
			}
			where, least := hits.least()
			t.Logf("%s, %d rows: %.3f or more (%s)", fn.name, n, float64(least)/trials, where)
			if least < lowerLimit(trials) {
				t.Errorf("%s, %d rows, %s: mu* in %d of %d", fn.name, n, where, least, trials)
			}
		}
	}
}
