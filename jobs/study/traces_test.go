package study

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// traced reads a study that drives over a trace of these rows, head included.
func traced(t *testing.T, schedules, rows string) (*Study, error) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "s.yaml")
	text := "format: 1\nschedules: {" + schedules + "}\nvehicles:\n  car: {kerb_mass: 1500 kg, drag_area: 0.6 m2, rolling_coefficient: 0.009, usable_energy: 50 kWh}\n" +
		"outputs:\n  way: {formula: car.trip_range, unit: km}\n"
	for name, data := range map[string]string{path: text, filepath.Join(dir, "trip.csv"): rows} {
		if err := os.WriteFile(name, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return Read(path, Options{})
}

const tripFile = "trip: {file: trip.csv, time: s, speed: km/h}"

const hillFile = "trip: {file: trip.csv, time: s, speed: km/h, grade: '%'}"

// TestGradeOfATrace: a grade is of each sample, and a drive that ends higher says so.
func TestGradeOfATrace(t *testing.T) {
	s, err := traced(t, hillFile, "time,speed,grade\n0,36,3\n1,36,5\n2,36,5\n")
	if err != nil {
		t.Fatal(err)
	}
	d := s.Catalogue.Drives()
	trip := d[len(d)-1].Schedule
	if len(trip.Grade) != 3 || trip.Grade[1] != 0.05 || d[len(d)-1].USTest {
		t.Errorf("%+v", trip.Grade)
	}
	if s, err = traced(t, hillFile, "time,speed,grade\n0,72,30\n1,72,30\n"); err != nil || len(s.TraceNotes) != 1 || !strings.Contains(s.TraceNotes[0], "ends 5.75 m higher") {
		t.Errorf("a drive uphill: %v, %v", s, err)
	}
}

// FuzzTrace holds the reader of traces to its promise on any bytes: no panic, and either a
// study or a mistake with a message.
func FuzzTrace(f *testing.F) {
	f.Add([]byte("time,speed,grade\n0,0,0\n1,5,1\n2,0,-1\n"))
	f.Add([]byte("# a comment\n\ntime,speed,grade\n0,0,0\n0.1,0.3,40\n"))
	f.Add([]byte("time;speed;grade\n0;0;0\n"))
	f.Add([]byte("time,speed,grade\n0,\"0\n\",0\n1,1e308,-1e308\n"))
	f.Add([]byte("PAR1PAR1"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fuzzFile(t, "trip.csv", data, "schedules: {"+hillFile+"}\nvehicles: {car: {kerb_mass: 1500 kg}}\n")
	})
}

// FuzzBill does so of a bill's file.
func FuzzBill(f *testing.F) {
	f.Add([]byte("item,group,mass,sd,x,count\nlid,tray,9,0.1,1400,1\nscrews,,0.01,,,64\n"))
	f.Add([]byte("item,mass,x\n\"a\nb\",1,2\nlid,,\n"))
	f.Add([]byte("\xef\xbb\xbfitem,mass,x,sd\nlid,1,2,3,4\n"))
	f.Add([]byte("mass,x\n1,2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fuzzFile(t, "pack.csv", data, "vehicles: {car: {kerb_mass: 1500 kg, bill: {file: pack.csv, mass: kg, x: mm}}}\n")
	})
}

func fuzzFile(t *testing.T, name string, data []byte, study string) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "s.yaml")
	if err := os.WriteFile(path, []byte("format: 1\n"+study), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Read(path, Options{})
	var all Errors
	if err == nil && s == nil || err != nil && (!errors.As(err, &all) || len(all) == 0 || all[0].Found == "") {
		t.Errorf("neither a study nor Errors: %v", err)
	}
}

// TestOwnSchedule has a trace make outputs of its name, be kept with the study, and be
// told where it looks noisy or does not end as it began.
func TestOwnSchedule(t *testing.T) {
	s, err := traced(t, tripFile, "time,speed\n0,0\n0.5,9\n1,18\n1.5,9\n2,0\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.TraceNotes) != 1 || !strings.Contains(s.TraceNotes[0], "noisy: 4 of 4 steps") {
		t.Errorf("5 m/s2 in every step: %q", s.TraceNotes)
	}
	if len(s.Files) != 2 || s.Files[1].Name != "trip.csv" {
		t.Errorf("the trace is not kept: %+v", s.Files)
	}
	d := s.Catalogue.Drives()
	trip := d[len(d)-1].Schedule
	if trip.Name != "trip" || trip.Distance() != 5 {
		t.Errorf("%s goes %g m, want 5", trip.Name, trip.Distance())
	}
	s, err = traced(t, tripFile, "time,speed\n0,72\n1,73\n")
	if err != nil || len(s.TraceNotes) != 1 || !strings.Contains(s.TraceNotes[0], "begins at 20 and ends at 20.3 m/s") {
		t.Errorf("a trace that ends faster: %v, %v", s, err)
	}
}

// TestWrongTraces: what no drive can be is refused by its line, and a key by its name.
func TestWrongTraces(t *testing.T) {
	for _, x := range []struct{ schedules, rows, want string }{
		{tripFile, "time,speed\n0,0\n1,5\n3,6\n", "line 4: a gap of 2 s"},
		{tripFile, "# measured\n\ntime,speed\n0,0\n1,5\n1,6\n", "line 6: time 1 s after 1 s"},
		{tripFile, "time,speed\n0,0\n1,5\n0.5,6\n", "line 4: time 0.5 s after 1 s"},
		{tripFile, "time,speed\n0,0\n1,-5\n", "line 3: a speed of -1.389 m/s"},
		{tripFile, "time,speed\n-1,0\n0,5\n", "line 2: a time of -1 s"},
		{tripFile, "time,speed\n0,0\n0.01,5\n", "line 3: a step of 0.01 s"},
		{tripFile, "time,speed\n0,0\n1,500\n", "line 3: a speed of 138.9 m/s"},
		{tripFile, "time,speed\n0,0\n1,x\n", "line 3, column \"speed\": \"x\" is no number"},
		{tripFile, "time,speed\n0,0\n1,0\n", "does not move"},
		{tripFile, "seconds,speed\n0,0\n1,0\n", "time"},
		{"trip: {file: trip.csv, time: s}", "time,speed\n0,0\n1,1\n", "file, time or speed is missing"},
		{"trip: {file: trip.csv, time: km, speed: km/h}", "time,speed\n0,0\n1,1\n", "is no unit of time"},
		{"trip: {file: none.csv, time: s, speed: km/h}", "time,speed\n0,0\n1,1\n", "none.csv"},
		{"udds: {file: trip.csv, time: s, speed: km/h}", "time,speed\n0,0\n1,1\n", "declared twice"},
		{hillFile, "time,speed\n0,0\n1,1\n", "no column \"grade\""},
		{hillFile, "time,speed,grade\n0,0,4\n1,1,x\n", "line 3, column \"grade\": \"x\" is no number"},
		{hillFile, "# up\ntime,speed,grade\n0,0,4\n1,1,-45\n", "line 4: a grade of -45 %"},
		{"trip: {file: trip.csv, time: s, speed: km/h, grade: degree}", "time,speed,grade\n0,0,4\n1,1,2\n", "is no unit of grade"},
		{"Trip: {file: trip.csv, time: s, speed: km/h}", "time,speed\n0,0\n1,1\n", "small letters"},
		{"trip: 7", "time,speed\n0,0\n1,1\n", "schedule"},
	} {
		if _, err := traced(t, x.schedules, x.rows); err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s\n%s%v\nwant %q", x.schedules, x.rows, err, x.want)
		}
	}
	var long strings.Builder
	long.WriteString("time,speed\n")
	for i := range mostSamples + 1 {
		fmt.Fprintf(&long, "%d,1\n", i)
	}
	if _, err := traced(t, tripFile, long.String()); err == nil || !strings.Contains(err.Error(), "more than 100000 samples") {
		t.Errorf("a long trace: %v", err)
	}
}
