// Package vehicle is the built-in model: from cells, pack and car to mass, energy
// over driving schedules and range.
//
// # What it holds
//
// Each file has one subject and declares its quantities beside the functions that
// compute them. A quantity may be given, made in one of several ways from other
// quantities of the same car, taken from a default, or absent. NewSystem decides
// which, once, for every car of a study; Rule hands out the column functions.
//
// # Order of preference
//
// What is given is used. Else the first way of the declaration whose needs can all
// be had; then the default, which is shared by all cars; then, for optional
// quantities, the value that stands for "not there". A part that is stated only in
// part (a filler density without a share filled) counts as missing, never as nil.
//
// # Changes
//
// A car that is based on another and has no kerb mass of its own weighs what the car
// at the root of its chain weighs, plus what has changed in pack and subsystems, less
// what the pack makes unnecessary (displaced), plus what it makes necessary (added).
// Machines and losses stay those of the root's car (built_mass). No change gives
// exactly no change.
//
// # Methods and sources
//
// Textbook relations, named at each quantity; drive losses, their defaults and the
// model's own error are fitted on 60 certified cars of open government data, and
// the error was measured on the same cars (testdata/cars). Of these, 90 % and more lie
// within a factor 1.13 (city) and 1.08 (highway) of the model; of 30 further car lines,
// not fitted and with driven wheels guessed, 23 and 29: the city interval is rather
// narrow. A gain of one car over another is much surer than either's level.
//
// # Limits
//
// Screening accuracy. No warm-up but per trip in the cold, no tyre or gear temperature over time, no speed
// limit of motor or battery, no inertia-weight classes but where they are asked for. It is no approval of
// structure, crash, high-voltage or thermal safety, and a labelled range is only what
// an accredited test measures.
package vehicle
