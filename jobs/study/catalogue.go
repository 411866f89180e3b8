package study

import (
	"sync"

	"proofmass/model/vehicle"
)

// A Catalogue is a model of vehicles, with its defaults as the grammar of studies reads
// them, each once. It serves any number of studies, at once too.
type Catalogue struct {
	*vehicle.Model
	defaults sync.Map // by defaultText
}

// NewCatalogue is the catalogue of a model. A result folder does not say which model it is
// of: results of one that is not built in belong into folders of their own.
func NewCatalogue(m *vehicle.Model) *Catalogue { return &Catalogue{Model: m} }

// BuiltIn is the catalogue of a study that is not given another.
var BuiltIn = sync.OnceValue(func() *Catalogue { return NewCatalogue(vehicle.BuiltIn()) })
