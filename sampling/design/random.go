package design

type random struct{ seed uint64 }

// Random returns the plain random design: independent rows, uniform in the
// cube. Its size is no part of a row, so it can be extended at will.
func Random(seed uint64) Design { return random{seed} }

func (random) Name() string { return "random" }

func (random) Replicates() int { return 1 }

func (d random) Fill(u []float64, purpose, column string, round, replicate, from int) {
	k := columnKey(d.seed, d.Name(), purpose, column, round, replicate)
	for i := range u {
		u[i] = k.Unit(uint64(from + i))
	}
}
