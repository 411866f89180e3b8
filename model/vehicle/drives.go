package vehicle

import (
	"fmt"
	"slices"

	"proofmass/model/schedule"
)

// Driving says which factor of the model's error a schedule's consumption has.
type Driving int

// The kinds of driving.
const (
	City Driving = iota
	Highway
	Mixed // the geometric mean of both
)

// A Drive is a schedule as cars are driven over it. The schedule's name begins the names
// of what is computed: udds_total, udds_consumption.
type Drive struct {
	Schedule *schedule.Schedule
	Words    string // what a sentence calls it: "UDDS"
	Driving  Driving
	WLTP     bool // at the mass and in the air of the WLTP test
	USTest   bool // on a US dynamometer, whose inertia may go in classes of weight
	Plug     bool // consumption from the plug is told too
}

// Drives are schedules in the order in which they are shown.
type Drives []Drive

// Published are the published schedules, those of every model that is not given others.
func Published() Drives {
	of := func(name, words string, driving Driving) Drive {
		s, ok := schedule.ByName(name)
		if !ok {
			panic("vehicle: no schedule " + words)
		}
		return Drive{Schedule: s, Words: words, Driving: driving}
	}
	all := Drives{
		of("udds", "UDDS", City), of("hwfet", "HWFET", Highway), of("us06", "US06", Highway), of("sc03", "SC03", Mixed), of("nycc", "NYCC", City),
		of("wltc", "WLTC", Mixed),
	}
	for i, d := range all {
		all[i].WLTP = d.Schedule.Name == "wltc"
		all[i].USTest = !all[i].WLTP
		all[i].Plug = slices.Contains(legal, d.Schedule.Name)
	}
	return all
}

// legal are the schedules of labels and type approval, without which there is no model.
var legal = []string{"udds", "hwfet", "wltc"}

// named is the drive over the schedule of that name.
func (all Drives) named(name string) Drive {
	return all[slices.IndexFunc(all, func(d Drive) bool { return d.Schedule.Name == name })]
}

// check refuses schedules over which nothing can be computed.
func (all Drives) check() error {
	var names []string
	for _, d := range all {
		if d.Schedule == nil || !(d.Schedule.Distance() > 0) {
			return fmt.Errorf("vehicle: drive %q: a schedule with a distance is needed", d.Words)
		}
		names = append(names, d.Schedule.Name)
	}
	for _, name := range legal {
		if !slices.Contains(names, name) {
			return fmt.Errorf("vehicle: no schedule %s, on which labels rest", name)
		}
	}
	return nil
}
