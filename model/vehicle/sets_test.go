package vehicle

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// set is a file of testdata/traction: an invented car and what an independent
// reference model gives for it, in Wh/km and km.
type set struct {
	Inputs  map[string]any
	Outputs struct {
		Derived   map[string]float64
		Schedules map[string]map[string]*float64
		Steady    map[string]map[string]*float64
		Label     map[string]*float64
		WLTP      map[string]*float64
		WLTCRange *float64            `json:"wltc_range_km"`
		Ranges    map[string]*float64 `json:"steady_range_km"`
	}
}

const (
	whPerKm = 3.6 // J/m
	km      = 1000.0
)

func readSet(t *testing.T, name string) *set {
	t.Helper()
	text, err := os.ReadFile("../../testdata/traction/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	s := new(set)
	if err := json.Unmarshal(text, s); err != nil {
		t.Fatal(err)
	}
	return s
}

// given are the quantities that the set states.
func (s *set) given() values {
	g := values{}
	for q, v := range s.Inputs {
		if x, ok := v.(float64); ok {
			g[q] = x
		}
	}
	if s.Inputs["coastdown_f0"] == nil {
		delete(g, "coastdown_f1")
		delete(g, "coastdown_f2")
	} else {
		g["coastdown_f1_mass_share"] = 0 // the sets leave F1 as filed
	}
	return g
}

func TestSets(t *testing.T) {
	for _, name := range []string{"typical", "typical_lighter", "coastdown", "infeasible"} {
		t.Run(name, func(t *testing.T) {
			s := readSet(t, name)
			want := map[string]*float64{}
			scale := map[string]float64{}
			add := func(q string, v *float64, unit float64) { want["car."+q], scale["car."+q] = v, unit }
			for q, v := range s.Outputs.Derived {
				add(q, &v, 1)
			}
			for schedule, block := range s.Outputs.Schedules {
				if schedule == "wltc_class3b" {
					block, schedule = s.Outputs.WLTP, "wltc" // the model drives it at the WLTP test mass
				}
				add(schedule+"_total", block["total"], whPerKm)
				for _, sink := range sinks {
					add(schedule+"_"+sink.name, block[sink.name], whPerKm)
				}
			}
			for label, q := range map[string]string{
				"city_range_km": "city_range", "highway_range_km": "highway_range", "combined_range_km": "combined_range",
				"label_city_range_km": "label_city_range", "label_highway_range_km": "label_highway_range", "label_combined_range_km": "label_range",
			} {
				add(q, s.Outputs.Label[label], km)
			}
			for label, q := range map[string]string{
				"city_ac_wh_per_km_unadjusted": "udds_ac_consumption", "highway_ac_wh_per_km_unadjusted": "hwfet_ac_consumption",
				"combined_ac_wh_per_km_label": "label_ac_consumption",
			} {
				add(q, s.Outputs.Label[label], whPerKm)
			}
			add("wltc_range", s.Outputs.WLTCRange, km)
			for speed, r := range s.Outputs.Ranges {
				add("steady_range_"+speed, r, km)
			}
			compare(t, s, want, scale)
		})
	}
}

func compare(t *testing.T, s *set, want map[string]*float64, scale map[string]float64) {
	t.Helper()
	x := newTrial(t, nil)
	x.car("car", "", s.given())
	wanted := make([]string, 0, len(want))
	for name := range want {
		wanted = append(wanted, name)
	}
	if len(wanted) < 98 {
		t.Errorf("only %d values to meet", len(wanted))
	}
	for name, got := range x.run(wanted...) {
		switch w := want[name]; {
		case w == nil:
			if !math.IsNaN(got) {
				t.Errorf("%s = %g, want infeasible", name, got)
			}
		case math.Abs(*w) < 1e-12:
			if math.Abs(got) > 1e-12 { // kinetic: nil but for rounding
				t.Errorf("%s = %g, want 0", name, got)
			}
		default:
			near(t, name, got, *w*scale[name], 1e-9)
		}
	}
}

// TestSteadySpeedStated takes a set's speed as a stated one.
func TestSteadySpeedStated(t *testing.T) {
	s := readSet(t, "coastdown")
	x := newTrial(t, nil)
	g := s.given()
	g["steady_speed"] = 110 / 3.6
	x.car("car", "", g)
	found := x.run("car.steady_range", "car.steady_range_110", "car.steady_consumption")
	near(t, "steady_range", found["car.steady_range"], *s.Outputs.Ranges["110"]*km, 1e-9)
	near(t, "steady_consumption", found["car.steady_consumption"], *s.Outputs.Steady["110"]["total"]*whPerKm*0.98, 1e-9)
	if found["car.steady_range"] != found["car.steady_range_110"] {
		t.Error("a stated speed and the same speed by name differ")
	}
}

// TestPairedGain takes typical_lighter as based on typical: its gains are ratios of
// the sets' ranges.
func TestPairedGain(t *testing.T) {
	base, light := readSet(t, "typical"), readSet(t, "typical_lighter")
	x := newTrial(t, nil)
	x.car("typical", "", base.given())
	x.car("lighter", "typical", values{"kerb_mass": 1731, "gross_mass": 2202})
	found := x.run("lighter.label_range_change", "lighter.city_range_difference", "lighter.wltc_range_change", "lighter.range_change_from_mass_alone")
	gain := *light.Outputs.Label["label_combined_range_km"]/(*base.Outputs.Label["label_combined_range_km"]) - 1
	near(t, "label_range_change", found["lighter.label_range_change"], gain, 1e-9)
	near(t, "range_change_from_mass_alone", found["lighter.range_change_from_mass_alone"], gain, 1e-9)
	near(t, "city_range_difference", found["lighter.city_range_difference"], km*(*light.Outputs.Label["city_range_km"]-*base.Outputs.Label["city_range_km"]), 1e-8)
	near(t, "wltc_range_change", found["lighter.wltc_range_change"], *light.Outputs.WLTCRange/(*base.Outputs.WLTCRange)-1, 1e-8)
}
