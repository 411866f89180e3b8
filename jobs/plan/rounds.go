package plan

// Kind says what the rows of a round are for.
type Kind string

// The kinds of rounds. Draws of different kinds have nothing in common.
const (
	Sample Kind = "sample" // rows to be stored and summarised
	Index  Kind = "index"  // pairs of rows for variance-based indices
)

// A Round is a design cut into slices.
type Round struct {
	Number     int
	Kind       Kind
	Rows       int // in all replicates
	Replicates int
	Slices     []Slice

	FirstRow       int // rows of all rounds before it
	FirstReplicate int
}

// A Slice is rows [From, From+Rows) of one replicate.
type Slice struct {
	Number    int // in the round, from 0
	Replicate int
	From      int // in the replicate
	First     int // in the round
	Rows      int
}

// maxSlice keeps a worker's slice of 100 columns under 7 MB.
const maxSlice = 8192

func newRound(number int, kind Kind, rows, replicates int) Round {
	r := Round{Number: number, Kind: kind, Rows: rows, Replicates: replicates}
	for replicate := range replicates {
		first, end := r.Bound(replicate), r.Bound(replicate+1)
		for from := 0; from < end-first; from += maxSlice {
			r.Slices = append(r.Slices, Slice{Number: len(r.Slices), Replicate: replicate,
				From: from, First: first + from, Rows: min(maxSlice, end-first-from)})
		}
	}
	return r
}

// Bound is the first row of a replicate; Bound(Replicates) is the number of rows.
func (r Round) Bound(replicate int) int { return r.Rows * replicate / r.Replicates }

// Bounds are the Replicates+1 bounds of all replicates.
func (r Round) Bounds() []int {
	b := make([]int, r.Replicates+1)
	for i := range b {
		b[i] = r.Bound(i)
	}
	return b
}
