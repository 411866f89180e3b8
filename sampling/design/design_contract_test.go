package design

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"testing"
)

// names are n column names; the design's columns are they, for one purpose.
func names(n int) []string {
	list := make([]string, n)
	for j := range list {
		list[j] = fmt.Sprintf("x%d", j+1)
	}
	return list
}

func columnsOf(purpose string, list []string) []Column {
	var columns []Column
	for _, name := range list {
		columns = append(columns, Column{purpose, name})
	}
	return columns
}

func newDesign(t testing.TB, name string, seed uint64, rows int, columns ...string) Design {
	t.Helper()
	d, err := New(name, seed, rows, slices.Concat(columnsOf("sample", columns), columnsOf("index", columns)))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// contractRows is a size that every design takes: 64 rows a replicate.
const contractRows = 16 * 64

// every runs the test for each design, at a small size and, where the design has
// one, a large size.
func every(t *testing.T, test func(t *testing.T, name string, n int)) {
	for _, name := range Names() {
		for _, n := range []int{64, 1024} {
			if name == "latin_low_correlation" && n > 64 {
				continue
			}
			t.Run(fmt.Sprintf("%s/%d", name, n), func(t *testing.T) { test(t, name, n) })
		}
	}
}

// All rows lie in (0, 1), and in a margin none comes twice.
func TestContractBounds(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		d := newDesign(t, name, 3, 16*n, names(6)...)
		for _, column := range names(6) {
			for r := range d.Replicates() {
				u := fill(d, n, "sample", column, 0, r, 0)
				slices.Sort(u)
				if !(u[0] > 0 && u[n-1] < 1) || len(slices.Compact(u)) != n {
					t.Fatalf("%s, replicate %d: rows from %v to %v, or one twice", column, r, u[0], u[n-1])
				}
			}
		}
	})
}

// Each one-dimensional margin of a replicate is stratified: of n rows, the cells
// [j/m, (j+1)/m) hold n/m each where m divides n, and never differ by more than 1,
// for m = n (latin, sobol), every power of two (sobol), every power of the base
// (halton: rounded down or up).
func TestContractStrata(t *testing.T) {
	primes := firstPrimes(6)
	every(t, func(t *testing.T, name string, n int) {
		d := newDesign(t, name, 4, 16*n, names(6)...)
		for j, column := range names(6) {
			var cells []int
			switch name {
			case "latin", "latin_low_correlation":
				cells = []int{n}
			case "sobol":
				for m := n; m > 1; m /= 2 {
					cells = append(cells, m)
				}
			case "halton":
				for m := int(primes[j]); m < n*int(primes[j]); m *= int(primes[j]) {
					cells = append(cells, m)
				}
			}
			for r := range d.Replicates() {
				u := fill(d, n, "sample", column, 0, r, 0)
				for _, m := range cells {
					count := make([]int, m)
					for _, v := range u {
						count[int(v*float64(m)+1e-12)]++
					}
					if slices.Min(count) < n/m || slices.Max(count) > (n+m-1)/m {
						t.Fatalf("%s, replicate %d: %d cells hold %d to %d rows", column, r, m, slices.Min(count), slices.Max(count))
					}
				}
			}
		}
	})
}

// Margins are uniform: all replicates of a column over 24 rounds. Kolmogorov and
// Smirnov's distance for independent rows, which no design here exceeds in spread,
// limit 2.75/sqrt(rows): false alarm 5.4e-7 a column or less. The same within
// strata, where a design has them: the fraction of n u.
func TestContractMargins(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		d := newDesign(t, name, 5, 16*n, names(3)...)
		for _, column := range names(3) {
			var all, inside []float64
			for round := range 24 {
				for r := range d.Replicates() {
					for _, v := range fill(d, n, "sample", column, round, r, 0) {
						all = append(all, v)
						inside = append(inside, v*float64(n)-math.Floor(v*float64(n)))
					}
				}
			}
			for what, u := range map[string][]float64{"rows": all, "within strata": inside} {
				if distance, limit := distanceFromUniform(u), 2.75/math.Sqrt(float64(len(u))); distance > limit {
					t.Errorf("%s, %s: distance %.4f from uniform, limit %.4f", column, what, distance, limit)
				}
			}
		}
	})
}

func distanceFromUniform(u []float64) float64 {
	slices.Sort(u)
	n, worst := float64(len(u)), 0.0
	for i, v := range u {
		worst = max(worst, math.Abs(v-float64(i)/n), math.Abs(v-float64(i+1)/n))
	}
	return worst
}

// Rows are the same from any slicing, in any order, and from a design made anew.
// What no replicate and no column has is NaN.
func TestContractSlices(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		whole := fill(newDesign(t, name, 6, 16*n, names(4)...), n, "sample", "x3", 2, 5, 0)
		d := newDesign(t, name, 6, 16*n, names(4)...)
		for _, size := range []int{1, 7, 64} {
			for from := (n - 1) / size * size; from >= 0; from -= size {
				part := fill(d, min(size, n-from), "sample", "x3", 2, 5, from)
				if !slices.Equal(part, whole[from:from+len(part)]) {
					t.Fatalf("rows from %d differ when made alone", from)
				}
			}
		}
		if name == "random" {
			return
		}
		if u := fill(d, 3, "sample", "x3", 2, 5, n-1); u[0] != whole[n-1] || u[1] == u[1] || u[2] == u[2] {
			t.Errorf("beyond the end: %v", u)
		}
		if u := fill(d, 1, "sample", "nobody", 2, 5, 0)[0]; name != "latin" && u == u {
			t.Errorf("a column that nobody listed is %v", u)
		}
	})
}

// Replicates, rounds, purposes, seeds and columns have nothing to do with one
// another: over 1024 rounds, a row of one and the same row of the other correlate by
// 0 with sd 1/sqrt(1024); 5.5 sd, 5 pairs, 9 designs: false alarm below 2e-6. (Over
// the rows of one replicate two scrambled sequences may well correlate: which way is
// up to the first digit's flips, and cancels over replicates.)
func TestContractStreams(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		d, other := newDesign(t, name, 7, 16*n, names(6)...), newDesign(t, name, 8, 16*n, names(6)...)
		get := func(d Design, purpose, column string, round, replicate int) []float64 {
			u := make([]float64, 1024)
			for i := range u {
				d.Fill(u[i:i+1], purpose, column, round+i, replicate, 5)
			}
			return u
		}
		base := get(d, "sample", "x2", 0, 0)
		for what, u := range map[string][]float64{
			"seed": get(other, "sample", "x2", 0, 0), "purpose": get(d, "index", "x2", 0, 0), "column": get(d, "sample", "x5", 0, 0),
			"round": get(d, "sample", "x2", 5000, 0), "replicate": get(d, "sample", "x2", 0, 1),
		} {
			if c := 12 * covariance(base, u); math.Abs(c) > 5.5/32 || slices.Equal(base, u) {
				t.Errorf("another %s correlates by %.3f", what, c)
			}
		}
	})
}

// Adding an input changes no draw of latin and random, wherever it stands; of the
// others, none of what stands before it.
func TestContractAnotherInput(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		few := newDesign(t, name, 9, 16*n, "a", "b", "c")
		behind := newDesign(t, name, 9, 16*n, "a", "b", "c", "new")
		before := newDesign(t, name, 9, 16*n, "new", "a", "b", "c")
		for _, column := range []string{"a", "b", "c"} {
			u := fill(few, n, "sample", column, 0, 3, 0)
			if !slices.Equal(u, fill(behind, n, "sample", column, 0, 3, 0)) {
				t.Errorf("%s changes when an input is added behind", column)
			}
			if same := slices.Equal(u, fill(before, n, "sample", column, 0, 3, 0)); !same && (name == "latin" || name == "random") {
				t.Errorf("%s changes when an input is added in front", column)
			}
		}
	})
}

// Rows of random and sobol do not depend on how many there are.
func TestContractLonger(t *testing.T) {
	for _, name := range []string{"random", "sobol"} {
		short, long := newDesign(t, name, 10, contractRows, names(3)...), newDesign(t, name, 10, 4*contractRows, names(3)...)
		if !slices.Equal(fill(short, 64, "sample", "x3", 0, 2, 0), fill(long, 64, "sample", "x3", 0, 2, 0)) {
			t.Errorf("%s: the first rows of a longer design differ", name)
		}
	}
}

func TestContractDoesNotAllocate(t *testing.T) {
	every(t, func(t *testing.T, name string, n int) {
		d := newDesign(t, name, 11, 16*n, names(6)...)
		u := make([]float64, n)
		d.Fill(u, "sample", "x4", 0, 0, 0) // latin_low_correlation makes the replicate
		if count := testing.AllocsPerRun(10, func() { d.Fill(u, "sample", "x4", 0, 0, 0) }); count != 0 {
			t.Errorf("Fill allocates %v times", count)
		}
	})
}

// goldenDesigns was taken on amd64; the same under qemu-user as arm64.
const goldenDesigns = "79dfc4a0350821e2"

// TestGoldenDesigns holds the bits of the first 64 rows of every design.
func TestGoldenDesigns(t *testing.T) {
	h := fnv.New64a()
	every(t, func(t *testing.T, name string, n int) {
		d := newDesign(t, name, 12, 16*n, names(20)...)
		for j, column := range names(20) {
			for _, v := range fill(d, 64, "sample", column, j%2, j%d.Replicates(), 0) {
				fmt.Fprintf(h, "%016x", math.Float64bits(v))
			}
		}
	})
	if got := fmt.Sprintf("%016x", h.Sum64()); got != goldenDesigns {
		t.Errorf("draws have the hash %s, want %s", got, goldenDesigns)
	}
}

func TestContractRefusals(t *testing.T) {
	refusal := func(name string, rows, columns int) error {
		_, err := New(name, 1, rows, columnsOf("sample", names(columns)))
		return err
	}
	twice := func(name string) error {
		_, err := New(name, 1, 1024, columnsOf("sample", []string{"a", "b", "a"}))
		return err
	}
	round := func(name string, rows int) error { _, err := RoundRows(name, rows); return err }
	for _, c := range []struct {
		got  error
		want string
	}{
		{refusal("sobol", 1000, 2), "got 1000 rows; a sobol design takes 16 times a power of two, at most 68719476736"},
		{refusal("halton", 48, 2), "got 48 rows; a halton design takes 16 times a power of two, at most 68719476736"},
		{refusal("sobol", 0, 2), "got 0 rows; a sobol design takes 16 times a power of two, at most 68719476736"},
		{refusal("sobol", 1024, 257), "got 257 columns; a sobol design has 256: 128 inputs with variance-based indices, 256 without"},
		{refusal("halton", 1024, 257), "got 257 columns; a halton design has 256: 128 inputs with variance-based indices, 256 without"},
		{refusal("latin_low_correlation", 2016, 2), "got 2016 rows; a latin_low_correlation design needs all rows at once and takes at most 2000: beyond, latin has hardly any correlation either"},
		{refusal("latin_low_correlation", 160, 10), "got 160 rows for 10 columns; a latin_low_correlation design takes more rows in each of its 16 replicates than it has columns: at least 176"},
		{refusal("sobel", 16, 2), `no design is called "sobel"; there are latin, random, sobol, halton and latin_low_correlation`},
		{twice("sobol"), "a column of the design is listed twice"}, {twice("halton"), "a column of the design is listed twice"},
		{twice("latin_low_correlation"), "a column of the design is listed twice"},
		{round("latin_low_correlation", 2001), "got 2001 rows; a latin_low_correlation design needs all rows at once and takes at most 2000: beyond, latin has hardly any correlation either"},
		{round("sobol", 1<<36+1), "got 137438953472 rows; a sobol design takes 16 times a power of two, at most 68719476736"},
	} {
		if c.got == nil || c.got.Error() != c.want {
			t.Errorf("got %v\nwant %s", c.got, c.want)
		}
	}
	for _, c := range []struct {
		design     string
		rows, want int
	}{{"sobol", 1, 16}, {"sobol", 16, 16}, {"sobol", 17, 32}, {"sobol", 33, 64}, {"halton", 200_000, 262_144}, {"sobol", 131_072, 131_072}, {"latin_low_correlation", 2000, 2000}, {"latin_low_correlation", 1, 16}} {
		if got, err := RoundRows(c.design, c.rows); err != nil || got != c.want {
			t.Errorf("RoundRows(%s, %d) = %d, %v, want %d", c.design, c.rows, got, err, c.want)
		}
	}
	if _, err := New("sobol", 1, 1024, columnsOf("sample", names(256))); err != nil {
		t.Error(err)
	}
}
