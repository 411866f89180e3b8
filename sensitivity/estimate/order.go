package estimate

import "slices"

// A Place is a row with its value, which is not NaN.
type Place struct {
	X   float64
	Row int32
}

// byValue orders places.
func byValue(a, b Place) int {
	if a.X < b.X {
		return -1
	}
	if a.X > b.X {
		return 1
	}
	return int(a.Row) - int(b.Row)
}

// fewPlaces is where, below, comparing is faster than counting.
const fewPlaces = 1024

// digitOf is a digit, from the lowest, of the key of x.
func digitOf(x float64, digit int) uint64 {
	return keyOf(x) >> (digit * digitBits) & (1<<digitBits - 1)
}

// SortPlaces sorts by value, equal ones in the order given, which is that of the rows.
// It counts digits from the lowest up; digits that all share cost nothing but the
// count. The result is places or scratch, which must be as long.
func SortPlaces(places, scratch []Place) []Place {
	if len(places) < fewPlaces {
		slices.SortFunc(places, byValue)
		return places
	}
	var counts [digits][1 << digitBits]int32
	for i := range places {
		places[i].X += 0 // one zero, not two
		for d := range counts {
			counts[d][digitOf(places[i].X, d)]++
		}
	}
	from, to := places, scratch[:len(places)]
	for d := range counts {
		count := &counts[d]
		if int(count[digitOf(from[0].X, d)]) == len(places) {
			continue
		}
		var at int32
		for i, n := range count {
			count[i] = at
			at += n
		}
		for _, p := range from {
			k := digitOf(p.X, d)
			to[count[k]] = p
			count[k]++
		}
		from, to = to, from
	}
	return from
}

// InOrder hands the rows of x to use by value, equal ones by row; use must not keep them. Rows
// for which keep is false or the value not finite are left out; a nil keep keeps all. It
// takes O(n).
func InOrder(x []float64, keep func(row int) bool, use func(order []Place)) {
	places := make([]Place, 0, len(x))
	for row, v := range x {
		if v-v == 0 && (keep == nil || keep(row)) {
			places = append(places, Place{v, int32(row)})
		}
	}
	use(SortPlaces(places, make([]Place, len(places))))
}
