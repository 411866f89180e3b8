package study

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/schedule"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// Bounds of a speed trace: its steps, its speed, and what of its acceleration looks like
// noise (common practice, no source).
const (
	mostSamples  = 100_000
	longestStep  = 1.0 + 1e-9 // s
	shortestStep = 0.1 - 1e-9 // s
	mostSpeed    = 100.0      // m/s
	hardStep     = 4.0        // m/s2
	hardShare    = 0.01       // of the steps
	hardest      = 12.0       // m/s2
	mostGrade    = 0.40       // rise over run
	levelEnough  = 1.0        // m between the heights of first and last sample
	highwaySpeed = 60 / 3.6   // m/s of the mean, from which a trace counts as highway
	traceShape   = "a schedule is {file: trip.csv, time: s, speed: km/h}: the units of its columns time and speed, and grade where it has one"
	mostTraces   = 16
	stillMoving  = 0.01 // m/s between first and last speed
)

// schedules reads speed traces of the study's own, after which its outputs are named, and
// puts a model in the place of the built-in one that drives over them too.
func (r *reader) schedules(v source.Field) {
	if r.notInFormulas(v, "schedules") {
		return
	}
	pairs, ok := v.Pairs("schedules are a mapping: name: {file: trip.csv, time: s, speed: km/h}")
	if !ok || !v.AtMost(mostTraces, "schedules") {
		return
	}
	drives := r.s.Catalogue.Drives()
	before := r.errs.Count()
	for _, p := range pairs {
		if !named(p, "schedule") {
			continue
		}
		if s := r.trace(p); s != nil {
			driving := vehicle.City
			if s.Distance()/s.Duration() > highwaySpeed {
				driving = vehicle.Highway
			}
			drives = append(drives, vehicle.Drive{Schedule: s, Words: p.Name, Driving: driving})
		}
	}
	if r.errs.Count() > before {
		r.refuse("schedules")
		return
	}
	m, err := vehicle.New(vehicle.Options{Drives: drives})
	if err != nil {
		v.Err(strings.TrimPrefix(err.Error(), "vehicle: "), "another name: outputs of a schedule begin with it")
		return
	}
	r.s.Catalogue = NewCatalogue(m)
	r.catalogue = r.s.Catalogue
}

// trace reads one schedule; nil where something of it is wrong.
func (r *reader) trace(p source.Pair) *schedule.Schedule {
	var name string
	units := map[string]unit.Unit{}
	take := source.Handlers{"file": func(f source.Field) { name, _ = f.Text("the name of a CSV or Parquet file is expected") }}
	for key, like := range map[string]string{"time": "s", "speed": "m/s", "grade": "'%', rise over run"} {
		take[key] = func(f source.Field) {
			if u, ok := r.numbers.Unit(f); ok {
				if key == "grade" {
					if text := strings.TrimSpace(f.Raw()); text != "%" && text != "1" {
						f.Err(f.What()+" is no unit of grade", "'%' or 1, rise over run: an angle is not taken for one")
					}
					units[key] = u
				} else if si, _ := unit.Parse(like); u.Dimension() != si.Dimension() || u.Absolute() {
					f.Err(f.What()+" is no unit of "+key, "such as "+like)
				} else {
					units[key] = u
				}
			}
		}
	}
	before := r.errs.Count()
	take.Read(p.Value, "a schedule")
	if r.errs.Count() > before {
		return nil
	}
	_, timed := units["time"]
	_, moving := units["speed"]
	if name == "" || !timed || !moving {
		p.Value.Err("file, time or speed is missing", traceShape)
		return nil
	}
	data, err := r.valuesFile(name)
	if err != nil {
		p.Value.Err(source.Quote(name)+": "+err.Error(), "a CSV or Parquet file in the study's folder")
		return nil
	}
	columns := map[string][]float64{}
	for _, key := range []string{"time", "speed", "grade"} {
		if _, asked := units[key]; !asked {
			continue
		}
		x, err := uncertain.Column(name, data, key)
		if err != nil {
			p.Value.Err(source.Quote(name)+": "+err.Error(), "columns time and speed, and grade where it is asked for, a sample a row")
			return nil
		}
		for i := range x {
			x[i] = units[key].ToSI(x[i])
		}
		columns[key] = x
	}
	seconds, speed := columns["time"], columns["speed"]
	if row, found, allowed := traceMistake(seconds, speed); found != "" {
		p.Value.Err(fmt.Sprintf("%s: line %d: %s", source.Quote(name), lineOfRow(data, row), found), allowed)
		return nil
	}
	s, err := schedule.New(p.Name, seconds, speed)
	if err != nil {
		p.Value.Err(source.Quote(name)+": "+strings.TrimPrefix(err.Error(), "schedule "+p.Name+": "), "samples of a drive in order of time")
		return nil
	}
	if grade := columns["grade"]; grade != nil {
		if row, found := gradeMistake(grade); found != "" {
			p.Value.Err(fmt.Sprintf("%s: line %d: %s", source.Quote(name), lineOfRow(data, row), found), "grades of 40 % at most, up or down: is the unit right?")
			return nil
		}
		if s, err = s.WithGrade(grade); err != nil {
			p.Value.Err(source.Quote(name)+": "+strings.TrimPrefix(err.Error(), "schedule "+p.Name+": "), "a grade for each sample")
			return nil
		}
	}
	if !(s.Distance() > 0) {
		p.Value.Err(source.Quote(name)+": the car does not move", "a drive with a distance")
		return nil
	}
	s.Source = "the study's own trace " + source.Printable(name, 60)
	r.s.TraceNotes = append(r.s.TraceNotes, traceNotes(p.Name, s)...)
	return s
}

// traceMistake is the first row of a trace that no drive can have, and what it may be.
func traceMistake(seconds, speed []float64) (row int, found, allowed string) {
	if len(seconds) != len(speed) {
		return min(len(seconds), len(speed)), fmt.Sprintf("%d times and %d speeds", len(seconds), len(speed)), "one of each a row"
	}
	if len(seconds) > mostSamples {
		return mostSamples, fmt.Sprintf("more than %d samples", mostSamples), "a shorter drive, or longer steps, of 1 s at most"
	}
	for i, t := range seconds {
		switch v := speed[i]; {
		case t < 0:
			return i, fmt.Sprintf("a time of %g s", t), "times of 0 or more"
		case v < 0:
			return i, fmt.Sprintf("a speed of %.4g m/s", v), "speeds of 0 or more: backwards is not driven"
		case v > mostSpeed:
			return i, fmt.Sprintf("a speed of %.4g m/s", v), "speeds up to 100 m/s: is the unit right?"
		case i == 0:
		case t <= seconds[i-1]:
			return i, fmt.Sprintf("time %g s after %g s", t, seconds[i-1]), "times that go forward"
		case t-seconds[i-1] > longestStep:
			return i, fmt.Sprintf("a gap of %.4g s", t-seconds[i-1]), "steps of 0.1 to 1 s: what happened in a gap is not made up"
		case t-seconds[i-1] < shortestStep:
			return i, fmt.Sprintf("a step of %.4g s", t-seconds[i-1]), "steps of 0.1 to 1 s: thin the trace out"
		}
	}
	return 0, "", ""
}

// gradeMistake is the first row of a trace whose road is steeper than roads are.
func gradeMistake(grade []float64) (row int, found string) {
	for i, g := range grade {
		if !(math.Abs(g) <= mostGrade) {
			return i, fmt.Sprintf("a grade of %.4g %%", 100*g)
		}
	}
	return 0, ""
}

// lineOfRow is the line of a row of a CSV file, from 1; the row's own number elsewhere.
func lineOfRow(data []byte, row int) int {
	if bytes.HasPrefix(data, []byte("PAR1")) {
		return row + 1
	}
	seen := -1 // the head
	for k, line := range bytes.Split(data, []byte("\n")) {
		if text := bytes.TrimSpace(line); len(text) == 0 || text[0] == '#' {
			continue
		}
		if seen == row {
			return k + 1
		}
		seen++
	}
	return row + 2
}

// traceNotes say what a reader of a trace's figures has to know.
func traceNotes(name string, s *schedule.Schedule) []string {
	var notes []string
	hard, most := 0, 0.0
	for _, step := range s.Steps() {
		if a := math.Abs(step.A); a > hardStep {
			hard, most = hard+1, max(most, a)
		}
	}
	if n := len(s.Steps()); float64(hard) > hardShare*float64(n) || most > hardest {
		notes = append(notes, fmt.Sprintf("Schedule %s looks noisy: %d of %d steps are harder than 4 m/s2, the hardest %.3g m/s2. Noise of 0.1 m/s in steps of 0.1 s is 1 m/s2 of false braking; nothing was smoothed.", name, hard, n, most))
	}
	first, last := s.Speed[0], s.Speed[len(s.Speed)-1]
	if math.Abs(last-first) > stillMoving {
		notes = append(notes, fmt.Sprintf("Schedule %s begins at %.3g and ends at %.3g m/s: what the car gains or loses in speed is in %s_kinetic and in its consumption.", name, first, last, name))
	}
	if s.Grade != nil && math.Abs(s.Climb()) > levelEnough {
		notes = append(notes, fmt.Sprintf("Schedule %s ends %.3g m higher than it began: what climbing takes or gives back is in %s_grade and in its consumption.", name, s.Climb(), name))
	}
	return notes
}
