package vehicle

import (
	"encoding/csv"
	"math"
	"os"
	"testing"

	"proofmass/model"
)

// record is a certified car of testdata/cars, in SI; open data of the US government
// (see the README there).
type record struct {
	name       string
	mass       float64
	f0, f1, f2 float64
	allWheel   float64
	city, hwy  float64 // filed consumption from the plug, J/m
}

const (
	poundf    = pound * 9.80665
	mphMetres = 0.44704
)

// readCars reads a table. Where the driven wheels are not recorded allWheel stays 0.
func readCars(t *testing.T, file string) []record {
	t.Helper()
	f, err := os.Open("../../testdata/cars/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var cars []record
	for _, row := range rows[1:] {
		number := func(name string) float64 { return parse(t, row[column[name]]) }
		c := record{name: row[0], mass: number("etw_lb") * pound,
			f0: number("A_lbf") * poundf, f1: number("B_lbf_per_mph") * poundf / mphMetres, f2: number("C_lbf_per_mph2") * poundf / mphMetres / mphMetres,
			city: number("udds_unadj_ac_wh_per_km") * whPerKm, hwy: number("hwfet_unadj_ac_wh_per_km") * whPerKm}
		if i, ok := column["driven"]; ok {
			c.allWheel = map[string]float64{"two": 0, "all": 1}[row[i]]
		}
		cars = append(cars, c)
	}
	return cars
}

// fill is how a test fills a column of a car's inputs.
type fill func(column []float64, name string)

// predict runs the cars through the system as rows of one program, each with the
// coefficients and the weight filed and its losses as fill gives them.
func predict(t *testing.T, cars []record, losses fill, wanted ...string) map[string][]float64 {
	t.Helper()
	given := map[string]string{}
	for _, q := range []string{"test_mass", "coastdown_f0", "coastdown_f1", "coastdown_f2", "all_wheel_drive"} {
		given[q] = "car." + q
	}
	s, err := BuiltIn().NewSystem([]Car{{Name: "car", Given: given}}, "car")
	if err != nil {
		t.Fatal(err)
	}
	p, err := model.Compile(wanted, func(name string) (model.Rule, error) {
		if given[name[len("car."):]] == name || BuiltIn().DefaultText(name) != "" {
			return model.Sampled(name), nil
		}
		return s.Rule(name)
	})
	if err != nil {
		t.Fatal(err)
	}
	w := p.NewWorker(len(cars))
	for i, name := range p.Inputs() {
		column := w.Input(i)
		losses(column, name)
		for k, c := range cars {
			switch name {
			case "car.test_mass":
				column[k] = c.mass
			case "car.coastdown_f0":
				column[k] = c.f0
			case "car.coastdown_f1":
				column[k] = c.f1
			case "car.coastdown_f2":
				column[k] = c.f2
			case "car.all_wheel_drive":
				column[k] = c.allWheel
			}
		}
	}
	w.Run(len(cars))
	found := map[string][]float64{}
	for i, name := range p.Outputs() {
		found[name] = w.Output(i)
	}
	return found
}

// central puts every default at its centre, fitted figures as they stand.
func central(t *testing.T) fill {
	return func(column []float64, name string) {
		if text := BuiltIn().DefaultText(name); text != "" {
			x := centre(t, name, text)
			for i := range column {
				column[i] = x
			}
		}
	}
}

const acCity, acHighway = "car.udds_ac_consumption", "car.hwfet_ac_consumption"

// TestCheckValues holds the model to figures that an independent reference model
// made from the filed road load and the default losses at their centres.
func TestCheckValues(t *testing.T) {
	want := map[string][2]float64{
		"bev-001": {117.5855, 146.2368}, "bev-021": {118.5879, 142.5474}, "bev-041": {134.8645, 149.4571}, "bev-060": {194.1098, 242.7213},
	}
	cars := readCars(t, "bev_roadload.csv")
	split := map[string]float64{"rolling": 35.8329, "speed_term": 11.2208, "aero": 24.1195, "friction_brakes": 6.1824, "gear": 5.1390,
		"drive_unit": 10.9296, "auxiliaries": 6.3114, "battery": 1.6230, "total": 101.3587}
	wanted := []string{acCity, acHighway, "car.hwfet_total"}
	for sink := range split {
		wanted = append(wanted, "car.udds_"+sink)
	}
	found := predict(t, cars, central(t), wanted...)
	met := 0
	for i, c := range cars {
		if w, ok := want[c.name]; ok {
			met++
			near(t, c.name+" city", found[acCity][i], w[0]*whPerKm, 1e-6)
			near(t, c.name+" highway", found[acHighway][i], w[1]*whPerKm, 1e-6)
		}
		if c.name == "bev-001" {
			for sink, w := range split {
				near(t, sink, found["car.udds_"+sink][i], w*whPerKm, 1e-4)
			}
			near(t, "hwfet total", found["car.hwfet_total"][i], 126.0561*whPerKm, 1e-6)
		}
	}
	if met != len(want) {
		t.Errorf("%d of %d cars found", met, len(want))
	}
}

// TestCoreCars predicts every car with the defaults at their centres and holds the
// error to the bounds published with the defaults. Nothing is fitted here.
func TestCoreCars(t *testing.T) {
	cars := readCars(t, "bev_roadload.csv")
	found := predict(t, cars, central(t), acCity, acHighway)
	var city, hwy, ratio, both []float64
	for i, c := range cars {
		u, h := found[acCity][i], found[acHighway][i]
		city, hwy = append(city, u/c.city-1), append(hwy, h/c.hwy-1)
		ratio = append(ratio, u/h/(c.city/c.hwy)-1)
		both = append(both, combined(u, h)/combined(c.city, c.hwy)-1)
	}
	for _, x := range []struct {
		name   string
		errors []float64
		rms    float64
	}{{"UDDS", city, 7.5}, {"HWFET", hwy, 4.9}, {"UDDS/HWFET", ratio, 5.5}, {"combined", both, 5.8}} {
		mean, rms, worst := errorFigures(x.errors)
		t.Logf("%-10s mean %+.2f %%, root mean square %.2f %%, largest %+.1f %% of %d cars", x.name, mean, rms, worst, len(x.errors))
		if !(math.Abs(mean) <= 0.5) || !(rms <= x.rms) {
			t.Errorf("%s: mean %.2f %% (0.5 allowed), rms %.2f %% (%.1f allowed)", x.name, mean, rms, x.rms)
		}
	}
}

// errorFigures are in per cent.
func errorFigures(errors []float64) (mean, rms, worst float64) {
	var sum, squares float64
	for _, e := range errors {
		sum += e
		squares += e * e
		if math.Abs(e) > math.Abs(worst) {
			worst = e
		}
	}
	n := float64(len(errors))
	return 100 * sum / n, 100 * math.Sqrt(squares/n), 100 * worst
}

// binomialLimits returns counts below and above which a binomial variable falls with a
// chance of at most tail each.
func binomialLimits(n int, p, tail float64) (low, high int) {
	chance := func(k int) float64 {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(k + 1))
		c, _ := math.Lgamma(float64(n - k + 1))
		return math.Exp(a - b - c + float64(k)*math.Log(p) + float64(n-k)*math.Log(1-p))
	}
	below := 0.0
	for low = 0; below+chance(low) <= tail; low++ {
		below += chance(low)
	}
	above := 0.0
	for high = n; above+chance(high) <= tail; high-- {
		above += chance(high)
	}
	return low, high
}
