package marginal

import (
	"fmt"
	"math"
	"testing"
)

func formatNumber(x float64) string { return fmt.Sprintf("%v", x) }

// TestRefusals: every constructor says in one line what it was given and what
// is allowed.
func TestRefusals(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	try := func(m Marginal, err error) error {
		if err != nil && m != nil {
			return fmt.Errorf("a marginal came with the error %w", err)
		}
		return err
	}
	std, _ := Normal(0, 1)
	cells, _ := OneOf([]float64{20, 22}, nil)
	ten, _ := Constant(10)
	for _, c := range []struct {
		got  error
		want string
	}{
		{try(Between(4, 3)), "low 4 must be below high 3"},
		{try(Between(3, 3)), "low and high are both 3; low must be below high, and what is certain is a constant"},
		{try(Between(nan, 3)), "low is NaN; it must be a finite number"},
		{try(Between(0, inf)), "high is +Inf; it must be a finite number"},
		{try(Between(-1.7e308, 1.7e308)), "the span from low -1.7e+308 to high 1.7e+308 is more than a number can hold"},
		{try(LogBetween(0, 3)), "low 0 must be above 0: the logarithm is what is uniform"},
		{try(LogBetween(3, 2)), "low 3 must be below high 2"},
		{try(Triangular(4, 3, 9)), "the mode 3 must lie between low 4 and high 9"},
		{try(Triangular(4, nan, 9)), "the mode NaN must lie between low 4 and high 9"},
		{try(Triangular(9, 5, 4)), "low 9 must be below high 4"},
		{try(PERT(4, 10, 9)), "the mode 10 must lie between low 4 and high 9"},
		{try(PERT(4, 4, 4)), "low and high are both 4; low must be below high, and what is certain is a constant"},
		{try(Normal(1, 0)), "the sd 0 must be above 0; what is certain is a constant"},
		{try(Normal(1, -2)), "the sd -2 must be above 0; what is certain is a constant"},
		{try(Normal(nan, 2)), "the mean is NaN; it must be a finite number"},
		{try(Normal(1e308, 1e308)), "a normal with mean 1e+308 and sd 1e+308 goes beyond what a number can hold"},
		{try(Likely(450, 0)), "within 0 must be above 0; what is certain is a constant"},
		{try(Likely(450, inf)), "within is +Inf; it must be a finite number"},
		{try(LogNormal(0, 2)), "the median 0 of a lognormal must be above 0"},
		{try(LogNormal(1, 1)), "the factor 1 of a lognormal must be above 1 and at most 1e+06"},
		{try(LogNormal(1, 1e40)), "the factor 1e+40 of a lognormal must be above 1 and at most 1e+06"},
		{try(LogNormal(1e300, 100)), "a lognormal with median 1e+300 and a factor of 100 goes beyond what a number can hold"},
		{try(LogNormalMeanSD(1e-9, 1e40)), "the sd 1e+40 of a lognormal must be at most 1e41 times the mean 1e-09"},
		{try(LogNormalMeanSD(-1, 1)), "the mean -1 of a lognormal must be above 0"},
		{try(LogNormalMeanSD(1, 0)), "the sd 0 must be above 0; what is certain is a constant"},
		{try(Percentiles([]float64{0.5}, []float64{1})), "got 1 percentiles; two to nine are allowed"},
		{try(Percentiles([]float64{0.1, 0.9}, []float64{1})), "got 2 percentiles and 1 values; each needs one"},
		{try(Percentiles([]float64{0.1, 1}, []float64{1, 2})), "the percentile 100 % must lie between 0 % and 100 %, both excluded"},
		{try(Percentiles([]float64{0.1, nan}, []float64{1, 2})), "the percentile NaN % must lie between 0 % and 100 %, both excluded"},
		{try(Percentiles([]float64{0.5, 0.1}, []float64{1, 2})), "the percentiles must increase, but 10 % follows 50 %"},
		{try(Percentiles([]float64{0.1, 0.5}, []float64{2, 2})), "the value 2 at 50 % must be above the value 2 at 10 %"},
		{try(Percentiles([]float64{0.1, 0.5}, []float64{2, inf})), "the value at 50 % is +Inf; it must be a finite number"},
		{try(Percentiles([]float64{0.5, math.Nextafter(0.5, 1)}, []float64{0, 1e300})), "the tails of these percentiles go beyond what a number can hold"},
		{try(OneOf(nil, nil)), "there is no value to choose from; at least one is needed"},
		{try(OneOf([]float64{1, 2}, []float64{1})), "got 2 values and 1 weights; each value needs one"},
		{try(OneOf([]float64{1, 2}, []float64{1, -1})), "the weight -1 of the value 2 must not be negative"},
		{try(OneOf([]float64{1, 2}, []float64{0, 0})), "all weights are 0; at least one must be above 0"},
		{try(OneOf([]float64{1, nan}, nil)), "a value is NaN; it must be a finite number"},
		{try(OneOf([]float64{1, 2}, []float64{1, inf})), "a weight is +Inf; it must be a finite number"},
		{try(Constant(nan)), "the constant is NaN; it must be a finite number"},
		{try(Truncate(std, 8, inf)), "min 8 and max +Inf keep only 6e-16 of the distribution: they contradict it"},
		{try(Truncate(std, 38, 39)), "min 38 and max 39 keep only 3e-316 of the distribution: they contradict it"},
		{try(Truncate(std, 50, 60)), "min 50 and max 60 keep only 0 of the distribution: they contradict it"},
		{try(Truncate(std, 2, 1)), "min 2 must be below max 1"},
		{try(Truncate(std, 2, 2)), "min 2 must be below max 2"},
		{try(Truncate(std, nan, 2)), "min and max must be numbers, got NaN and 2"},
		{try(Truncate(ten, 11, inf)), "min 11 lies above the largest value, 10"},
		{try(Truncate(cells, -inf, 19)), "max 19 lies below the smallest value, 20"},
		{try(Truncate(cells, 20.5, 21)), "none of the values lies between min 20.5 and max 21"},
	} {
		if c.got == nil || c.got.Error() != c.want {
			t.Errorf("got %v\nwant %s", c.got, c.want)
		}
	}
}
