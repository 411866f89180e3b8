package vehicle

import (
	"slices"

	"proofmass/model"
)

// leverShare is the unit of what is told by the per cent.
const leverShare = 0.01

// A Lever is a unit of something that can be changed in a car by itself: what a kilogram, a
// per cent of air drag or a kilowatt-hour does to whatever rests on it. It is a finite
// change and no derivative.
type Lever struct {
	Name  string // of the rows of a table: drag
	Words string // what a sentence calls the unit: "1 % less air drag"
	moves []move
	holds []string // what stays although it is made of what moves
}

// A move is a quantity of a car as a lever leaves it, from itself and others of the car as
// the lever finds them.
type move struct {
	needs   []string // the first is what moves
	eval    evaluate
	ifGiven bool // only where it is given: else it follows from something that moves
}

// asBuilt is what stays when a car alone gets heavier: machines, coast-down and permission
// are those of the car as it was built.
var asBuilt = []string{"built_mass", "coastdown_mass", "gross_mass"}

// Levers are those of the built-in cars, in the order in which they are told.
func Levers() []Lever {
	less := func(x float64) float64 { return x * (1 - leverShare) }
	energy := []move{one(func(x float64) float64 { return x + kilowattHour }, "usable_energy"), two(inProportion, "cold_usable_energy", "usable_energy")}
	return []Lever{
		{"mass", "1 kg less kerb mass", masses(func([][]float64, int) float64 { return -1 }), asBuilt},
		{"drag", "1 % less air drag", each1(less, "aero_coefficient", "wltp_aero_coefficient", "cold_aero_coefficient"), nil},
		{"rolling", "1 % less rolling resistance", []move{one(less, "rolling_coefficient"),
			two(lessRolling, "coastdown_f0", "coastdown_mass_share"), one(lessShare, "coastdown_mass_share")}, nil},
		{"drive_losses", "1 % less loss in gear and machines",
			append(each1(less, "torque_loss", "spin_loss", "spin_cubic_loss", "idle_loss"), one(lessLost, "gear_efficiency")), nil},
		{"battery_resistance", "1 % less resistance of the pack", each1(less, "pack_resistance", "cold_pack_resistance"), nil},
		{"auxiliaries", "1 % less auxiliary power", each1(less, "auxiliary_total", "cold_auxiliary_total"), nil},
		{"recharging", "1 % less loss in charging", each1(lessLost, "recharge_efficiency"), nil},
		{"energy", "1 kWh more usable energy, mass held", energy, nil},
		{"energy_with_mass", "1 kWh more usable energy and its mass",
			append(masses(packOfKilowattHour, "pack_mass", "usable_energy"), energy...), asBuilt},
	}
}

const kilowattHour = 3.6e6 // [J]

// masses moves a car's masses by some kilograms, which may rest on other quantities: kerb
// mass, from which the masses in the tests follow where they are not given.
func masses(by func(rest [][]float64, row int) float64, rest ...string) []move {
	moved := func(q string, part func(goods float64) float64, ifGiven bool) move {
		return move{append([]string{q, "category"}, rest...), func(out, in [][]float64) {
			for i, mass := range in[0] {
				out[0][i] = mass + float64(part(in[1][i])*by(in[2:], i))
			}
		}, ifGiven}
	}
	whole := func(float64) float64 { return 1 }
	return []move{moved("kerb_mass", whole, false), moved("test_mass", whole, true),
		moved("wltp_test_mass", func(goods float64) float64 { return 1 - wltpPart(goods) }, true)}
}

// packOfKilowattHour is the mass of what holds a usable kilowatt-hour in such a pack.
func packOfKilowattHour(of [][]float64, row int) float64 {
	pack, usable := of[0][row], of[1][row]
	return kilowattHour * pack / usable
}

// inProportion is what is left of energy in the cold, with a kilowatt-hour more in the warm.
func inProportion(cold, usable float64) float64 { return cold * (1 + kilowattHour/usable) }

// lessRolling is F0 with a per cent less of the share that goes with mass, and lessShare what
// is then that share.
func lessRolling(f0, share float64) float64 { return f0 * (1 - float64(leverShare*share)) }

func lessShare(share float64) float64 {
	return share * (1 - leverShare) / (1 - float64(leverShare*share))
}

// lessLost is an efficiency at which a per cent less is lost for the same that comes out.
func lessLost(efficiency float64) float64 {
	return 1 / (1 + float64((1-leverShare)*(1/efficiency-1)))
}

func one(f func(x float64) float64, q string) move {
	return move{needs: []string{q}, eval: from1(f, q).eval}
}

func two(f func(x, a float64) float64, q, a string) move {
	return move{needs: []string{q, a}, eval: from2(f, q, a).eval}
}

func each1(f func(x float64) float64, quantities ...string) []move {
	var moves []move
	for _, q := range quantities {
		moves = append(moves, one(f, q))
	}
	return moves
}

// A Pull is a lever pulled at one car of a system.
type Pull struct {
	Lever
	Car   string
	Moved []Moved
	Held  []Held
}

// Held is a quantity of a car and the column that holds it: its own, or that of another car
// or of all from which it has it.
type Held struct{ Quantity, Column string }

// Moved is a quantity that a lever moves, by full names of columns that it leaves alone.
type Moved struct {
	Held
	Needs []string
	Eval  model.Eval
}

// Pull pulls a lever at a car; Moved is empty where the car has nothing that it moves, or
// lacks what says by how much.
func (s *System) Pull(car string, l Lever) Pull {
	c, p := s.cars[car], Pull{Lever: l, Car: car}
	for _, m := range l.moves {
		if from := s.source(c, m.needs[0]); m.ifGiven && from.kind != given || from.kind == lacking {
			continue
		}
		moved := Moved{Eval: m.eval}
		for _, q := range m.needs {
			name, ok := s.full(c, q)
			if !ok {
				return Pull{Lever: l, Car: car}
			}
			moved.Needs = append(moved.Needs, name)
		}
		moved.Held = Held{m.needs[0], moved.Needs[0]}
		p.Moved = append(p.Moved, moved)
	}
	holds := l.holds
	if c.SizeFor.Sizes() { // it is not sized anew
		holds = append(slices.Clone(holds), "parallel")
	}
	for _, q := range holds {
		if name, ok := s.full(c, q); ok {
			p.Held = append(p.Held, Held{q, name})
		}
	}
	return p
}
