package plan

// Kind says what the rows of a round are for.
type Kind string

// The kinds of rounds, in the order in which they follow one another. Pairs and Shapley
// draw the rows of the index rounds again.
const (
	Sample  Kind = "sample"  // rows to be stored and summarised
	Rare    Kind = "rare"    // populations that climb towards claims which next to no row holds
	Temper  Kind = "temper"  // populations that move towards what was measured, where weights are poor
	Tornado Kind = "tornado" // every factor at its ends, the others at their medians
	Screen  Kind = "screen"  // few rows that find inputs which do next to nothing
	Index   Kind = "index"   // pairs of rows for variance-based indices
	Shapley Kind = "shapley" // walks over those rows, where inputs are tied
	Pairs   Kind = "pairs"   // two factors exchanged at once in those rows
)

// A Key names one slice among all of a study. Choice and account are 0 as long as a study
// has one of each.
type Key struct {
	Kind            Kind
	Round           int
	Choice, Account int
	Number          int // of the slice in its round
}

// Key is that of a slice of the round.
func (r Round) Key(s Slice) Key {
	return Key{Kind: r.Kind, Round: r.Number, Choice: s.Choice, Number: s.Number}
}

// A Round is a design cut into slices.
type Round struct {
	Number     int
	Kind       Kind
	Rows       int // in all replicates
	Replicates int
	Slices     []Slice

	Choices        int // of which each has so many rows; 0 without choices
	FirstRow       int // rows of all rounds before it
	FirstReplicate int
}

// A Slice is rows [From, From+Rows) of one replicate.
type Slice struct {
	Number    int // in the round, from 0
	Replicate int
	From      int // in the replicate
	First     int // in the round, or in what a choice has of it
	Rows      int
	Choice    int    // 0 without choices
	Parts     []Part // of a slice of several replicates, else nil
	Climb     int    // of a round of climbs: which of them; Replicate is then its population
}

// Pieces are the parts of a slice, one where it has no several.
func (s Slice) Pieces() []Part {
	if s.Parts != nil {
		return s.Parts
	}
	return []Part{{Replicate: s.Replicate, From: s.From, Rows: s.Rows, Number: s.Replicate}}
}

// All is the number of rows of all choices together.
func (r Round) All() int { return r.Rows * max(1, r.Choices) }

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
