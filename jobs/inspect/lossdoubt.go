package inspect

import (
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/model/vehicle"
)

// muchDoubt is how many times what the catalogue's losses cause is worth a word: one car
// differs from another by a third.
const muchDoubt = 1.5

// lossDoubt says where losses that the study states cause more doubt of consumption than
// those of the catalogue would, which are tied. The model's own error allows for those
// alone, so that a stated range is as much wider.
func lossDoubt(s *study.Study) []string {
	var told []string
	chains := map[string]bool{} // one car of each says it for all
	for _, v := range s.Vehicles {
		if !v.Run || s.System == nil || chains[s.System.Chain(v.Name)] || !statesLosses(s, v.Name) {
			continue
		}
		spread := lossSpread(s, v.Name)
		if spread == nil {
			continue
		}
		city, highway := s.Catalogue.LossSpread()
		if spread[0] > muchDoubt*city || spread[1] > muchDoubt*highway {
			chains[s.System.Chain(v.Name)] = true
			told = append(told, fmt.Sprintf("What is stated of the losses of %s causes %.1f %% of doubt of its consumption in the city and %.1f %% on the highway (one standard deviation), "+
				"where the catalogue's losses, which are tied, cause %.1f and %.1f %%: losses known together are tied together.",
				v.Name, 100*spread[0], 100*spread[1], 100*city, 100*highway))
		}
	}
	return told
}

// statesLosses reports whether the study states a loss of the vehicle that is not one
// number.
func statesLosses(s *study.Study, name string) bool {
	return slices.ContainsFunc(s.Inputs, func(in study.Input) bool {
		return in.Kind != study.Constant && (in.Vehicle == name || in.Vehicle == "") && isLoss(s, in)
	})
}

func isLoss(s *study.Study, in study.Input) bool {
	q, ok := s.Catalogue.Find(in.Quantity)
	return ok && q.Factor == vehicle.LossFactor
}

// lossSpread is the standard deviation of the logarithm of consumption from the plug in
// the city and on the highway with nothing but the losses drawn; nil where the vehicle has
// no consumption.
func lossSpread(s *study.Study, name string) []float64 {
	alone := *s
	alone.Claims, alone.Outputs, alone.Groups = nil, nil, nil
	alone.Stopping, alone.Keep, alone.Design, alone.Rows = study.Stopping{}, "asked", "latin", plan.Replicates*512
	alone.Indices = study.Indices{None: true, Of: []string{name + ".udds_ac_consumption", name + ".hwfet_ac_consumption"}}
	p, err := plan.New(&alone)
	if err != nil {
		return nil // what cannot be had is told elsewhere
	}
	feeds := map[string]bool{} // what the formulas of losses read
	for _, in := range s.Inputs {
		if in.Kind == study.Formula && isLoss(s, in) {
			addFeeds(s, in, feeds)
		}
	}
	var moved, outputs []int
	for i, in := range p.Drawn {
		if isLoss(s, in.Input) || feeds[in.Name] {
			moved = append(moved, i)
		}
	}
	for _, of := range alone.Indices.Of {
		outputs = append(outputs, slices.IndexFunc(p.Columns, func(c plan.Column) bool { return c.Name == of }))
	}
	var spread []float64
	for _, column := range (&run.Runner{Plan: p}).Only(moved, outputs) {
		spread = append(spread, logSpread(column))
	}
	return spread
}

// addFeeds adds what a formula reads, by way of other formulas too.
func addFeeds(s *study.Study, in study.Input, feeds map[string]bool) {
	for _, name := range in.Expr.Names() {
		if feeds[name] {
			continue
		}
		feeds[name] = true
		for _, other := range s.Inputs {
			if other.Name == name && other.Kind == study.Formula {
				addFeeds(s, other, feeds)
			}
		}
	}
}

// logSpread is the standard deviation of the logarithm.
func logSpread(x []float64) float64 {
	var sum, squares float64
	for _, v := range x {
		sum += math.Log(v)
	}
	mean := sum / float64(len(x))
	for _, v := range x {
		d := math.Log(v) - mean
		squares += float64(d * d)
	}
	return math.Sqrt(squares / float64(len(x)))
}
