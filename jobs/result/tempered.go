package result

// describeTempered tells the columns that every table of moved draws has: it is written as
// samples are.
func describeTempered() Description {
	return Description{File: TemperedTable, Row: "a draw after what was measured, where populations of draws were moved there since weights were poor", Columns: []Described{
		{Name: "row", Holds: "counts", Meaning: "number of the draw, from 0"},
		{Name: "choice", Holds: "counts", Meaning: "always 0"},
		{Name: "replicate", Holds: "counts", Meaning: "population of the draw, from 0"},
		{Name: "weight", Holds: "numbers", Unit: "1", Meaning: "what the draw counts: the mean likelihood of its population over the greatest of all"},
		{Name: "feasible", Holds: "counts", Meaning: "1 where it has all that is stored"},
		{Name: "QUANTITY", Holds: "numbers", Unit: "its own", Meaning: "each stored quantity, and log_likelihood, as in samples"},
	}}
}
