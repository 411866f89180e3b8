package vehicle

import (
	"fmt"
	"math"

	"proofmass/model"
)

// chargeNodes are the shares of the usable charge at which a cell's charge rate is
// stated.
var chargeNodes = []int{10, 20, 30, 40, 50, 60, 70, 80}

const (
	chargeFrom, chargeTo = 10, 80    // per cent shown
	quarterHour          = 15 * 60.0 // s
	chargeFull           = 100       // per cent shown
	noLimit              = math.MaxFloat64
)

// chargeQuantities declares a fast charge of a warm pack as a session in steps of 1 % of
// the charge that is shown.
func chargeQuantities() []quantity {
	const says = "A fast charge starts warm and knows no ageing limit and no lithium plating." + screening
	var rates []string
	all := []quantity{
		{name: "station_power", unit: "kW", limits: positive, absent: absent(noLimit), usual: usual{3, 400, practice, "W for kW"}, meaning: "largest power of the charging station, at the pack's terminals; left out: no limit", source: "its label"},
		{name: "station_current", unit: "A", limits: positive, absent: absent(noLimit), usual: usual{16, 650, practice, "the current of alternating current"}, meaning: "largest current of the station; left out: no limit. It binds packs of 400 V before power does", source: "its label"},
	}
	for _, node := range chargeNodes {
		name := fmt.Sprintf("charge_rate_%d", node)
		rates = append(rates, name)
		all = append(all, quantity{name: name, unit: "1/h", limits: positive, usual: usual{0.3, 6, sheets, "minutes for 1/h"},
			meaning: fmt.Sprintf("current over whole charge that the cells allow at %d %% shown; straight between such figures", node), source: "data sheet or measured"})
	}
	needs := append([]string{"station_power", "station_current", "pack_voltage", "pack_resistance", "parallel", "cell_charge", "usable_share", "state_of_health"}, rates...)
	told := "1 % steps of parallel x cell_charge x usable_share x state_of_health by the least of station_power and station_current at pack_voltage and pack_resistance, charge_rate_10 ... charge_rate_80 of the whole charge, the cells' heat and the voltage when full"
	for _, name := range rates[1:7] {
		told += ", " + name
	}
	told += ", cell_current_limit, pack_voltage_full"
	over := func(name, unit, meaning string, f func(s *session) float64) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: says}}, meaning: meaning,
			source: "first principles", ways: []way{{fit: sessionWay(needs, f), from: append(append([]string{}, needs...), "cell_current_limit", "pack_voltage_full"), form: told}}}
	}
	return append(all,
		over("charge_time_10_80", "min", "time from 10 to 80 % shown", func(s *session) float64 { return s.time(chargeFrom, chargeTo) }),
		over("charge_gain_15_min", "%", "charge that is gained in 15 minutes from 10 % shown", func(s *session) float64 { return s.gained(chargeFrom, quarterHour) }),
		quantity{name: "charge_range_15_min", unit: "km", limits: nonNegative, outputOnly: true, meaning: "label range that is gained in 15 minutes from 10 % shown", source: "definition", ways: []way{product("charge_gain_15_min", "label_range")}},
		quantity{name: "charge_wltc_range_15_min", unit: "km", limits: nonNegative, outputOnly: true, meaning: "range over WLTC that is gained in 15 minutes from 10 % shown", source: "definition", ways: []way{product("charge_gain_15_min", "wltc_range")}},
	)
}

// A session is what limits the current of a pack, and how much charge is one per cent.
type session struct {
	most    float64 // A, of the pack, whatever its charge
	whole   float64 // C
	percent float64 // C
	rates   []float64
}

// sessionWay reads the cells' heat and the full pack's voltage where these are known.
func sessionWay(needs []string, f func(s *session) float64) fitter {
	return func(s *System, c *car) plan {
		all, heat, full := append([]string{}, needs...), -1, -1
		if s.has(c, "cell_current_limit") {
			heat, all = len(all), append(all, "cell_current_limit")
		}
		if s.has(c, "pack_voltage_full") {
			full, all = len(all), append(all, "pack_voltage_full")
		}
		return eachOf(func(x []float64) float64 {
			power, current, voltage, resistance, parallel := x[0], x[1], x[2], x[3], x[4]
			most := current
			if power < noLimit {
				most = math.Min(most, chargeCurrent(power, voltage, resistance))
			}
			if heat >= 0 {
				most = math.Min(most, x[heat]*parallel)
			}
			if full >= 0 && resistance > 0 {
				most = math.Min(most, (x[full]-voltage)/resistance)
			}
			whole := parallel * x[5]
			return f(&session{most: most, whole: whole, percent: whole * x[6] * x[7] / chargeFull, rates: x[8:16]})
		}, all)
	}
}

// current is that of the pack at a shown charge in per cent.
func (s *session) current(shown float64) float64 {
	return math.Min(s.most, s.rate(shown)*s.whole)
}

// rate is straight between the nodes and level beyond them.
func (s *session) rate(shown float64) float64 {
	at := (shown - float64(chargeNodes[0])) / 10
	k := int(math.Floor(at))
	switch {
	case k < 0:
		return s.rates[0]
	case k >= len(s.rates)-1:
		return s.rates[len(s.rates)-1]
	}
	return s.rates[k] + float64((s.rates[k+1]-s.rates[k])*(at-float64(k)))
}

// step is the time for the per cent that begins at shown; no current, no end.
func (s *session) step(shown int) float64 {
	current := s.current(float64(shown) + 0.5)
	if !(current > 0) {
		return math.NaN()
	}
	return s.percent / current
}

func (s *session) time(from, to int) float64 {
	sum := 0.0
	for shown := from; shown < to; shown++ {
		sum += s.step(shown)
	}
	return sum
}

// gained is the share of the usable charge that is gained in a time, full at most.
func (s *session) gained(from int, seconds float64) float64 {
	for shown := from; shown < chargeFull; shown++ {
		step := s.step(shown)
		if !(seconds >= step) {
			return (float64(shown-from) + seconds/step) / chargeFull
		}
		seconds -= step
	}
	return float64(chargeFull-from) / chargeFull
}
