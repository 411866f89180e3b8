package jobs

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"maps"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// An opened step is a file of its own in the folder, written once: what the rounds before it
// gave, as far as plan.Next asks for it. So whoever makes slices of it, on whatever host,
// comes to the same step without reading the parts of those before.

// openKind is the kind under which these files stand among the parts.
const openKind = "open"

func openKey(number int) result.PartKey { return result.PartKey{Kind: openKind, Round: number} }

// told is plan.Joined as it is stored: maps have no order, so that two who open the same
// step would write other bytes.
type told struct {
	Choice int // of which sensitivity is told; 0 for none
	Kinds  []plan.Kind
	Rounds []int
	Joined plan.Joined
}

func encodeTold(choice int, j *plan.Joined) ([]byte, error) {
	t := told{Choice: choice, Joined: *j}
	t.Joined.Rounds = nil
	for _, kind := range slices.Sorted(maps.Keys(j.Rounds)) {
		t.Kinds, t.Rounds = append(t.Kinds, kind), append(t.Rounds, j.Rounds[kind])
	}
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(&t)
	return b.Bytes(), err
}

func decodeTold(data []byte) (choice int, j *plan.Joined, err error) {
	var t told
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&t); err != nil {
		return 0, nil, err
	}
	if len(t.Kinds) != len(t.Rounds) {
		return 0, nil, errors.New("its rounds do not match their kinds")
	}
	t.Joined.Rounds = map[plan.Kind]int{}
	for i, kind := range t.Kinds {
		t.Joined.Rounds[kind] = t.Rounds[i]
	}
	return t.Choice, &t.Joined, nil
}

// openStep writes that step number so and so is open, unless that stands there already.
func openStep(folder *result.Folder, by result.Maker, number, choice int, j *plan.Joined) (there bool, err error) {
	if folder.ReadPart(openKey(number), by) != nil {
		return true, nil
	}
	data, err := encodeTold(choice, j)
	if err != nil {
		return false, err
	}
	pending, err := folder.BeginPart(openKey(number), by, data)
	if err != nil {
		return false, err
	}
	return false, pending.Commit()
}

// openedStep is the step of that number, or of the last one that is open if it is
// negative; nil if it is not open.
func openedStep(p *plan.Plan, folder *result.Folder, by result.Maker, number int) (*plan.Step, int, error) {
	if number < 0 {
		number = folder.LastRound(openKind)
	}
	if number < 0 {
		return nil, 0, nil
	}
	data := folder.ReadPart(openKey(number), by)
	if data == nil {
		return nil, 0, nil
	}
	choice, j, err := decodeTold(data)
	if err != nil {
		return nil, 0, fmt.Errorf("round %d: %w", number, err)
	}
	if choice > 0 {
		p = p.ForChoice(choice)
	}
	step, err := p.Next(j)
	return step, number, err
}
