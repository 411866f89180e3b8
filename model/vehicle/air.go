package vehicle

import (
	"proofmass/model"
	"proofmass/sampling/portable"
)

// Constants of ISO 2533:1975, the standard atmosphere.
const (
	gravity      = 9.80665    // m/s2
	dryAir       = 287.05287  // J/(kg K)
	seaLevelK    = 288.15     // K
	seaLevelPa   = 101325.0   // Pa
	lapse        = 0.0065     // K/m, below 11 km
	earthRadius  = 6_356_766. // m
	referenceK   = 293.15     // 20 degC, to which road loads refer
	wltpAir      = "reference air of UN GTR 15 Annex 4 (20 degC, 100 kPa), from memory"
	certifiedAir = "reference air of the certification, 40 CFR 1066.805"
)

func airQuantities() []quantity {
	return []quantity{
		{name: "altitude", unit: "m", limits: limits{-500, 11000, false}, meaning: "height above the sea, as surveyed", source: "map"},
		{name: "air_pressure", unit: "kPa", limits: positive, meaning: "pressure of the air", source: "ISO 2533:1975 at the altitude",
			fallback: "98.21 kPa", fallbackSource: certifiedAir,
			ways: []way{from1(pressureAt, "!altitude")}},
		{name: "outside_temperature", unit: "degC", limits: kelvins,
			usual:       usual{-40, 50, practice, "degF for degC"},
			temperature: true,
			meaning:     "temperature of the air", source: "climate",
			fallback: "20 degC", fallbackSource: certifiedAir},
		{name: "air_density", unit: "kg/m3", limits: positive, step: true,
			meaning: "density of the air", source: "dry air as a perfect gas",
			ways: []way{from2(airDensity, "air_pressure", "outside_temperature")}},
		{name: "wltp_air_pressure", unit: "kPa", limits: positive, meaning: "pressure of the air in the WLTP test", source: wltpAir,
			fallback: "100 kPa", fallbackSource: wltpAir},
		{name: "wltp_air_density", unit: "kg/m3", traits: model.Traits{Question: "wltp_test_mass"}, limits: positive, step: true, outputOnly: true,
			meaning: "density of the air in the WLTP test; that of the study where it states air", source: wltpAir,
			ways: []way{{fit: wltpDensity, from: []string{"air_density", "wltp_air_pressure", "outside_temperature"}}}},
		{name: "head_wind", cause: byDrag, unit: "m/s", limits: anyNumber, meaning: "wind against the car; below nil a tail wind", source: "climate",
			fallback: "0 m/s", fallbackSource: certifiedAir},
		{name: "road_slope", unit: "rad", limits: limits{-0.78, 0.78, false}, meaning: "angle at which the road rises", source: "road",
			fallback: "0 rad", fallbackSource: certifiedAir},
	}
}

// wltpDensity is that of the procedure's own reference air, unless the study says what
// air it drives in.
func wltpDensity(_ *System, c *car) plan {
	if c.gives([]string{"air_pressure", "altitude", "air_density"}) {
		return plan{ok: true, needs: []string{"air_density"}, eval: copyColumn}
	}
	return plan{ok: true, needs: []string{"wltp_air_pressure", "outside_temperature"}, eval: from2(airDensity, "", "").eval}
}

// pressureAt is the pressure of the standard atmosphere at a geometric altitude
// below 11 km.
func pressureAt(altitude float64) float64 { return pressure(geopotential(altitude)) }

func geopotential(altitude float64) float64 {
	return earthRadius * altitude / (earthRadius + altitude)
}

func pressure(geopotential float64) float64 {
	return seaLevelPa * portable.Pow(1-float64(lapse*geopotential)/seaLevelK, gravity/(lapse*dryAir))
}

func airDensity(pressure, temperature float64) float64 { return pressure / (dryAir * temperature) }
