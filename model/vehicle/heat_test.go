package vehicle

import (
	"math"
	"testing"
)

// worked is one result of a worked example: a quantity of the car and its value.
type worked struct {
	given values
	want  values
}

func (w worked) check(t *testing.T, tolerance float64) {
	t.Helper()
	x := newTrial(t, nil)
	x.car("car", "", w.given)
	for q, want := range w.want {
		near(t, q, x.run("car." + q)["car."+q], want, tolerance)
	}
}

func joined(all ...values) values {
	sum := values{}
	for _, v := range all {
		for q, x := range v {
			sum[q] = x
		}
	}
	return sum
}

const hour, celsius = 3600, 273.15

// strings of a worked example: 104 x 34 cells of 3.9 Ah (first principles).
func strings104() values {
	return values{"series": 104, "parallel": 34, "cell_charge": 3.9 * hour, "cell_voltage": 3.62, "cell_voltage_full": 4.15, "cell_voltage_empty": 2.8,
		"cell_resistance": 0.027, "connection_resistance": 0.004, "cell_mass": 0.058, "voltage_sag": 0.1}
}

// First principles: series and parallel, windows of voltage, power at a sag; current at a
// charge power; power down to a lowest voltage.
func TestElectrics(t *testing.T) {
	worked{strings104(), values{"pack_voltage": 376.48, "pack_voltage_full": 431.6, "pack_voltage_empty": 291.2, "pack_resistance": 0.08658823529, "peak_power_at_sag": 147321.9438}}.check(t, 1e-9)
	charged := values{"pack_voltage": 376, "pack_resistance": 0.046, "charge_power": 130000, "lowest_voltage": 300}
	worked{charged, values{"charge_current": 332.240302, "charge_terminal_voltage": 391.2830539, "charge_chemical_power": 124922.3536, "peak_power_to_lowest": 495652.1739}}.check(t, 1e-9)
	capped := joined(strings104(), values{"cell_peak_current": 10})
	worked{capped, values{"peak_power_at_sag": 376.48*340 - 0.08658823529*340*340}}.check(t, 1e-9)
	near(t, "beyond half the voltage more current is less power", powerDownTo(376, 0.046, 100, math.MaxFloat64), 376*376/4/0.046, 1e-12)
}

// IEC 60028 and IEC 60889 conductors: a bar's resistance and mass, a section by density
// and by rise (free air 9 W/(m2 K), common practice).
func TestBusbars(t *testing.T) {
	near(t, "copper", ohmOf(0, 293.15), 1.724137931e-8, 1e-9)
	near(t, "copper at 80 degC, 60 mm2, 1 m", ohmOf(0, 353.15)/60e-6, 0.0003551149425, 1e-9)
	near(t, "aluminium, 60 mm2, 1 m", ohmOf(1, 293.15)/60e-6, 0.0004710666667, 1e-9)
	near(t, "copper bar", busbarMass(60e-6, 1, 0), 0.5334, 1e-12)
	near(t, "aluminium of equal resistance", busbarMass(98.35872e-6, 1, 1), 0.2658636202, 1e-9)
	bar := values{"conductor_current": 180, "conductor_length": 6, "busbar_rise": 30, "busbar_aspect": 5}
	worked{bar, values{"busbar_section": 5.970075284e-05, "busbar_mass": 3.184438156}}.check(t, 1e-9)
	worked{values{"conductor_current": 180, "conductor_length": 6, "current_density": 3e6}, values{"busbar_mass": 3.2004}}.check(t, 1e-9)
}

// cooledCell is a cell of 39 x 91 mm of worked examples (Carslaw and Jaeger).
func cooledCell() values {
	return values{"cell_diameter": 0.039, "cell_height": 0.091, "axial_conductivity": 15, "radial_conductivity": 0.8, "plate_conductance": 1e18}
}

// Carslaw and Jaeger: rise of a cell with 2.2 W, cooled at one end, at both, at its
// side; interface and plate; a fast charge's heat and the coolant's rise.
func TestCooledCells(t *testing.T) {
	const heat = 2.2
	for _, x := range []struct {
		about  string
		change values
		want   float64
	}{
		{"one end", nil, 5.586293159}, {"both ends", values{"cooled_ends": 2}, 1.39657329}, {"side", values{"cooling_place": coolingBeside}, 2.404813701},
		{"above is as below", values{"cooling_place": coolingAbove}, 5.586293159},
		{"interface", values{"interface_thickness": 0.0005, "interface_conductivity": 1.5}, 5.586293159 + 0.6138783691},
		{"in series with a plate", values{"interface_thickness": 0.0005, "interface_conductivity": 1.5, "plate_conductance": 5000}, 6.56849855},
	} {
		worked{joined(cooledCell(), x.change), values{"cell_thermal_resistance": x.want / heat}}.check(t, 1e-9)
	}
	const charged = 8.598384 // W a cell at 2C: 17.4 Ah, 7.1 mohm
	near(t, "heat at 2C", cellHeat(2*17.4*9, 9, 0.0071), charged, 1e-9)
	near(t, "end-cooled at 2C", charged*5.586293159/heat, 21.83322442, 1e-9)
	near(t, "coolant", 10000*coolantResistance(1, 15e-3/60, 1065, 3350), 11.21154789, 1e-9)
}

// Philip (1972), from memory, checked by finite volumes when it was written: side
// cooling over part of the perimeter.
func TestArcCooling(t *testing.T) {
	for arc, want := range map[float64][2]float64{1: {1, 0.5}, 0.5: {3.525494348, 1.886294361}, 1.0 / 3: {5.267831588, 3.272588722}, 1.0 / 6: {8.110357687, 5.906504516}} {
		peak, mean := arcFactors(arc)
		near(t, "peak", peak, want[0], 1e-9)
		near(t, "mean", mean, want[1], 1e-9)
	}
	near(t, "nearly the whole perimeter is the whole", first(arcFactors(1-1e-12)), 1, 1e-9)
}

func first(a, _ float64) float64 { return a }

// First principles: the power at which a cell's limit is reached, steadily.
func TestHeatLimit(t *testing.T) {
	given := joined(cooledCell(), values{"cell_mass": 0.272, "cell_specific_heat": 1000, "cell_resistance": 0.0071, "interface_thickness": 0.0005, "interface_conductivity": 1.5, "plate_conductance": 2000,
		"cell_temperature_limit": 55 + celsius, "coolant_temperature": 25 + celsius, "series": 104, "parallel": 9, "cell_voltage": 3.7})
	worked{given, values{"cell_thermal_resistance": 3.236813219, "cell_heat_limit": 9.268375395, "cell_current_limit": 36.13038867, "steady_power_limit": 125126.762, "cell_time_constant": 650.1902048}}.check(t, 1e-9)
	warmed := joined(given, values{"coolant_flow": 15e-3 / 60})
	x := newTrial(t, nil)
	x.car("car", "", warmed)
	if limit := x.run("car.cell_heat_limit")["car.cell_heat_limit"]; !(limit < 9.268375395) {
		t.Errorf("coolant that warms up on its way leaves %g W", limit)
	}
	flat := values{"cell_width": 0.2, "cell_thickness": 0.04, "cell_height": 0.1, "radial_conductivity": 1, "plate_conductance": 1e18}
	worked{flat, values{"cell_thermal_resistance": 0.04 / (8 * 0.2 * 0.1)}}.check(t, 1e-9)
}

// First principles: a fast charge under one limit at a time.
func TestFastCharge(t *testing.T) {
	pack := values{"series": 104, "parallel": 9, "cell_charge": 17.4 * hour, "cell_voltage": 3.7, "usable_share": 0.95, "pack_resistance": 0.05}
	rates := func(rate float64) values {
		v := values{}
		for _, q := range []string{"10", "20", "30", "40", "50", "60", "70", "80"} {
			v["charge_rate_"+q] = rate / hour
		}
		return v
	}
	worked{joined(pack, rates(1.6)), values{"charge_time_10_80": 24.9375 * 60, "charge_gain_15_min": 0.4210526316}}.check(t, 1e-9)
	worked{joined(pack, rates(100), values{"station_power": 1e5}), values{"charge_time_10_80": 24.82979975 * 60}}.check(t, 1e-9)
	worked{joined(pack, rates(100), values{"station_current": 250}), values{"charge_time_10_80": 24.99336 * 60}}.check(t, 1e-9)
	worked{joined(pack, rates(1e4)), values{"charge_gain_15_min": 0.9}}.check(t, 1e-12)
	worked{joined(pack, rates(100), values{"cell_voltage_full": 3.7 + 250*0.05/104}), values{"charge_time_10_80": 24.99336 * 60}}.check(t, 1e-9)
	s := session{rates: []float64{1, 2, 3, 4, 5, 6, 7, 8}}
	for shown, want := range map[float64]float64{0.5: 1, 10: 1, 15: 1.5, 79.5: 7.95, 80: 8, 99: 8} {
		near(t, "rate between its nodes", s.rate(shown), want, 1e-12)
	}
}

// First principles: trips that begin cold.
func TestColdTrips(t *testing.T) {
	given := values{"cabin_heat_capacity": 70e3, "cabin_low": 20 + celsius, "cold_temperature": -11 + celsius, "heating_performance": 1.8, "cells_mass": 260, "cell_specific_heat": 1000,
		"battery_warm_temperature": 9 + celsius, "battery_heating_performance": 0.95, "trip_length": 18e3}
	worked{given, values{"warm_up_energy": 1855.344379 * hour}}.check(t, 1e-9)
	trip := func(preconditioned float64) float64 {
		return tripRange([]float64{54e3 * hour, 205 * whPerKm, 205 * whPerKm, 1, 1, 1, 1855.344379 * hour, 18e3, preconditioned})
	}
	near(t, "cold each trip", trip(0), 175.2821707*km, 1e-9)
	near(t, "warmed from the plug", trip(1), 263.4146341*km, 1e-9)
}

// First principles, prices made up: a pack of 75 kWh, scrap, credit; and 40 CFR 600.
func TestCosts(t *testing.T) {
	x := newTrial(t, nil)
	x.node["car.displaced.floor"] = 42
	const kWh = 1000 * hour
	c := x.car("car", "", values{"pack_energy": 75 * kWh, "pack_mass": 420, "cells_mass": 300, "cell_price": 80.0 / kWh, "hardware_price": 9, "assembly_cost": 600, "scrap_share": 0.04, "displaced_credit": 5})
	c.Displaced = []string{"car.displaced.floor"}
	for q, want := range (values{"pack_cost": 7963.2, "pack_cost_per_energy": 106.176 / kWh, "pack_cost_to_car": 7753.2}) {
		near(t, q, x.run("car." + q)["car."+q], want, 1e-9)
	}
	perEconomy := mustUnit("MPGe")
	near(t, "100 MPGe", perEconomy.FromSI(1/(209.4331603*whPerKm)), 100, 1e-9)
	near(t, "combined", perEconomy.FromSI(perEnergy(combined(124, 148)/0.87*whPerKm, 0.71)), 95.96948304, 1e-9)
	near(t, "city", perEconomy.FromSI(perEnergy(124/0.87*whPerKm, 0.71)), 104.3281154, 1e-9)
	near(t, "highway", perEconomy.FromSI(perEnergy(148/0.87*whPerKm, 0.71)), 87.41004267, 1e-9)
}

// TestNetMass: what the car feels of a pack, per cell and per energy, beside the scale.
func TestNetMass(t *testing.T) {
	x := newTrial(t, nil)
	x.node["car.displaced.floor"] = 40
	c := x.car("car", "", values{"pack_mass": 400, "cell_count": 1000, "pack_energy": 80 * 3.6e6, "cells_mass": 300, "filler_mass": 8, "bond_mass": 2, "face_sheet_mass": 30, "bonded_share": 0.9})
	c.Displaced = []string{"car.displaced.floor"}
	for q, want := range (values{"pack_mass_per_cell": 0.4, "net_mass_per_cell": 0.36, "pack_mass_per_energy": 400 / (80 * 3.6e6), "net_mass_per_energy": 360 / (80 * 3.6e6),
		"bonded_mass_per_energy": 10 / (80 * 3.6e6), "bonded_mass_share": (330*0.9 + 10) / 400}) {
		near(t, q, x.run("car." + q)["car."+q], want, 1e-14)
	}
}
