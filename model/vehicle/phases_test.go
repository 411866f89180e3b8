package vehicle

import "testing"

// UN GTR 15 Annex 1 (phases of 589, 433, 455 and 323 s; distances from memory: 3.095,
// 4.756, 7.162 and 8.254 km): the phases add up in energy to the whole, low and medium to
// the city.
func TestWLTCPhases(t *testing.T) {
	x := newTrial(t, nil)
	x.car("car", "", values{"kerb_mass": 1700, "gross_mass": 2200, "drag_area": 0.65, "rolling_coefficient": 0.009, "all_wheel_drive": 0})
	wltc := Published().named("wltc").Schedule
	sum, city := 0.0, 0.0
	for i, km := range []float64{3.094527778, 4.755888889, 7.161722222, 8.254138889} {
		p := wltcPhases[i]
		part := wltc.Between(p.from, p.to)
		near(t, p.words, part.Distance()/1000, km, 1e-9)
		if wltc.Speed[p.from] != 0 || wltc.Speed[p.to] != 0 {
			t.Errorf("%s does not begin and end at rest", p.words)
		}
		energy := x.run("car.wltc_" + p.name + "_total")["car.wltc_"+p.name+"_total"] * part.Distance()
		if sum += energy; i < 2 {
			city += energy
		}
	}
	found := x.run("car.wltc_total", "car.wltc_city_total", "car.wltc_consumption", "car.wltc_low_consumption", "car.wltc_low_total")
	near(t, "whole", sum, found["car.wltc_total"]*wltc.Distance(), 1e-12)
	near(t, "city", city, found["car.wltc_city_total"]*wltc.Between(0, 1022).Distance(), 1e-12)
	near(t, "the model's error", found["car.wltc_low_consumption"]/found["car.wltc_low_total"], found["car.wltc_consumption"]/found["car.wltc_total"], 1e-12)
}
