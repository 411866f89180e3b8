package study

import (
	"cmp"
	"slices"

	"proofmass/model"
)

// Headline are the quantities that every answer about vehicles opens with, in order.
func (s *Study) Headline() []string {
	opening := s.quantities(func(q model.Quantity) bool { return q.Headline > 0 })
	slices.SortStableFunc(opening, func(a, b model.Quantity) int { return cmp.Compare(a.Headline, b.Headline) })
	return quantityNames(opening)
}

// Silent are the quantities that are stored for what they warn of.
func (s *Study) Silent() []string {
	return quantityNames(s.quantities(func(q model.Quantity) bool { return q.Silent }))
}

// OnMassBasis are the masses that follow the mass basis of their vehicle.
func (s *Study) OnMassBasis() []string {
	return quantityNames(s.quantities(func(q model.Quantity) bool { return q.HoldsDriver }))
}

// BelowNil says of quantities what it means that they are negative.
func (s *Study) BelowNil() map[string]string {
	says := map[string]string{}
	for _, q := range s.quantities(func(q model.Quantity) bool { return q.BelowNil != "" }) {
		says[q.Name] = q.BelowNil
	}
	return says
}

// quantities are those of the model for which the condition holds.
func (s *Study) quantities(wanted func(model.Quantity) bool) []model.Quantity {
	if s.System == nil {
		return nil
	}
	return slices.DeleteFunc(s.System.Quantities(), func(q model.Quantity) bool { return !wanted(q) })
}

func quantityNames(quantities []model.Quantity) []string {
	var all []string
	for _, q := range quantities {
		all = append(all, q.Name)
	}
	return all
}
