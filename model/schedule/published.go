package schedule

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"sync"
)

// Facts are the figures published beside a trace, in the publication's own unit and to its own number of decimals.
type Facts struct {
	Unit      string  // "mile" or "km"; speeds are per hour
	Distance  float64 // in Unit
	Duration  float64 // s
	MaxSpeed  float64 // Unit/h
	MeanSpeed float64 // Unit/h, Distance over Duration; 0 where none is published
	Source    string
}

// A Phase is a named part of a schedule, Between(From, To).
type Phase struct {
	Name      string
	From, To  int // samples
	Published Facts
}

const (
	summary = "US EPA, summary of the dynamometer driving schedules (US06 and SC03 means, NYCC maximum, mean and duration from memory)"
	gtr15   = "UN GTR No. 15, Annex 1 (tables A1/7, A1/9, A1/11, A1/12 and the totals of their phases)"
)

// published lists the built-in schedules. US06 and SC03 are published as 596 s long, with a mean over these, while their
// tables run on at rest to 600 s: the tables are kept whole.
var published = []Schedule{
	{Name: "udds", Title: "Urban Dynamometer Driving Schedule", Source: "40 CFR Part 86, Appendix I, paragraph (a)",
		Published: &Facts{"mile", 7.45, 1369, 56.7, 19.6, summary}},
	{Name: "hwfet", Title: "Highway Fuel Economy Driving Schedule", Source: "40 CFR Part 600, Appendix I",
		Published: &Facts{"mile", 10.26, 765, 59.9, 48.3, summary}},
	{Name: "us06", Title: "US06 driving schedule", Source: "40 CFR Part 86, Appendix I, paragraph (g)",
		Published: &Facts{"mile", 8.01, 596, 80.3, 48.4, summary}},
	{Name: "sc03", Title: "SC03 driving schedule", Source: "40 CFR Part 86, Appendix I, paragraph (h)",
		Published: &Facts{"mile", 3.58, 596, 54.8, 21.6, summary}},
	{Name: "nycc", Title: "New York City Cycle", Source: "40 CFR Part 86, Appendix I, paragraph (e)",
		Published: &Facts{"mile", 1.18, 598, 27.7, 7.1, summary}},
	{Name: "wltc", Title: "Worldwide light-duty test cycle, vehicle class 3b", Source: "UN GTR No. 15, Annex 1, tables A1/7, A1/9, A1/11, A1/12",
		Published: &Facts{"km", 23.266, 1800, 131.3, 46.5, gtr15},
		Phases: []Phase{
			{"low", 0, 589, Facts{"km", 3.095, 589, 56.5, 0, gtr15}},
			{"medium", 589, 1022, Facts{"km", 4.756, 433, 76.6, 0, gtr15}},
			{"high", 1022, 1477, Facts{"km", 7.162, 455, 97.4, 0, gtr15}},
			{"extra high", 1477, 1800, Facts{"km", 8.254, 323, 131.3, 0, gtr15}},
		}},
}

//go:embed published/*.csv
var traces embed.FS

var builtIn = sync.OnceValue(func() []*Schedule {
	all := make([]*Schedule, len(published))
	for i := range published {
		s, err := withTrace(&published[i])
		if err != nil {
			panic(err) // the embedded files are part of the program
		}
		all[i] = s
	}
	return all
})

// withTrace reads the speeds of a built-in schedule: lines of the second of the first speed, then ten speeds.
func withTrace(s *Schedule) (*Schedule, error) {
	file, err := traces.Open("published/" + s.Name + ".csv")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment, r.FieldsPerRecord = '#', -1
	lines, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	for _, line := range lines {
		if line[0] != strconv.Itoa(len(s.Speed)) {
			return nil, fmt.Errorf("schedule %s: line of second %s stands at second %d", s.Name, line[0], len(s.Speed))
		}
		for _, text := range line[1:] {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				return nil, fmt.Errorf("schedule %s: %w", s.Name, err)
			}
			s.Seconds = append(s.Seconds, float64(len(s.Speed)))
			s.Speed = append(s.Speed, s.Published.metresPerSecond(x))
		}
	}
	return finish(s), nil
}

// metresPerSecond converts a speed in the publication's unit: 1 mile/h is 0.44704 m/s exactly, 1 km/h is 1/3.6 m/s.
func (f *Facts) metresPerSecond(x float64) float64 {
	if f.Unit == "mile" {
		return x * 0.44704
	}
	return x / 3.6
}
