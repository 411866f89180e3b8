package vehicle

import (
	"math"
	"math/rand/v2"
	"regexp"
	"testing"
)

// drawn fills a column with draws from a default, for losses that are uncertain, as the
// study's grammar has them: normal or lognormal, truncated by drawing again.
func drawn(t *testing.T, r *rand.Rand) fill {
	number := func(text, key string, otherwise float64) float64 {
		if m := regexp.MustCompile(key + `: (-?[0-9.]+)`).FindStringSubmatch(text); m != nil {
			return parse(t, m[1])
		}
		return otherwise
	}
	return func(column []float64, name string) {
		text := DefaultText(name, false)
		low, high := number(text, "min", math.Inf(-1)), number(text, "max", math.Inf(1))
		mean, sd := number(text, "mean", math.NaN()), number(text, "sd", math.NaN())
		median, factor := number(text, "median", math.NaN()), number(text, "factor", math.NaN())
		if text != "" && mean != mean && median != median {
			constant := centre(t, name, text)
			for i := range column {
				column[i] = constant
			}
			return
		}
		for i := range column {
			switch {
			case mean == mean:
				x := mean + sd*r.NormFloat64()
				for x < low || x > high {
					x = mean + sd*r.NormFloat64()
				}
				column[i] = x
			case median == median:
				column[i] = median * math.Pow(factor, r.NormFloat64())
			}
		}
	}
}

// TestSpreadOfIndependentLosses draws the losses independently, with the smaller model
// error that goes with it: the spread of a level is then about what it is with constant
// losses and the larger error, 0.076 city and 0.048 highway in the logarithm. That holds on
// the mean of cars (5 %) and roughly for each (20 %: losses weigh more in a thrifty car).
// 4000 draws know a standard deviation to 1.1 %, their mean to 0.7 %: a false alarm has a
// chance below 1e-10, and the draws are seeded.
func TestSpreadOfIndependentLosses(t *testing.T) {
	const draws = 4000
	r := rand.New(rand.NewPCG(20, 26))
	cars := readCars(t, "bev_roadload.csv")
	var city, hwy float64
	for _, number := range []int{0, 20, 40} {
		rows := make([]record, draws)
		for i := range rows {
			rows[i] = cars[number]
		}
		found := predict(t, rows, drawn(t, r), acCity, acHighway)
		c, h := logSpread(found[acCity]), logSpread(found[acHighway])
		t.Logf("%s: sd of the logarithm %.4f city, %.4f highway", cars[number].name, c, h)
		near(t, cars[number].name+" city", c, 0.076, 0.20)
		near(t, cars[number].name+" highway", h, 0.048, 0.20)
		city, hwy = city+c*c/3, hwy+h*h/3
	}
	near(t, "mean city", math.Sqrt(city), 0.076, 0.05)
	near(t, "mean highway", math.Sqrt(hwy), 0.048, 0.05)
}

func logSpread(x []float64) float64 {
	var sum, squares float64
	for _, v := range x {
		sum += math.Log(v)
	}
	mean := sum / float64(len(x))
	for _, v := range x {
		squares += (math.Log(v) - mean) * (math.Log(v) - mean)
	}
	return math.Sqrt(squares / float64(len(x)-1))
}

// TestErrorCancelsInGain switches the model's error on and off: of a gain of about 5 %
// the spread changes by less than 0.05 points. The draws are the same in both, so
// nothing is left to chance.
func TestErrorCancelsInGain(t *testing.T) {
	const draws = 2000
	gains := func(sd float64) float64 {
		x := newTrial(t, nil)
		s := readSet(t, "typical")
		base := s.given()
		delete(base, "model_error_city")
		delete(base, "model_error_highway")
		for _, q := range []string{"torque_loss", "spin_loss", "idle_loss", "regen_share", "auxiliary_power", "gear_efficiency"} {
			delete(base, q)
		}
		x.car("typical", "", base)
		x.car("lighter", "typical", values{"kerb_mass": 1925})
		draw := drawn(t, rand.New(rand.NewPCG(1, 2)))
		found := x.columns(draws, func(column []float64, name string) {
			draw(column, name)
			if sd == 0 && (name == "model_error_z1" || name == "model_error_z2") {
				clear(column)
			}
		}, "lighter.label_range_change", "typical.label_range")
		t.Logf("model error %v: sd of the gain %.4f points, of the level %.2f %%", sd > 0, 100*deviation(found[0]), 100*logSpread(found[1]))
		return deviation(found[0])
	}
	if with, without := gains(1), gains(0); !(math.Abs(with-without) < 0.0005) {
		t.Errorf("the model's error moves the spread of a gain from %.4f to %.4f points", 100*without, 100*with)
	}
}

func deviation(x []float64) float64 {
	var sum, squares float64
	for _, v := range x {
		sum += v
	}
	for _, v := range x {
		d := v - sum/float64(len(x))
		squares += d * d
	}
	return math.Sqrt(squares / float64(len(x)-1))
}
