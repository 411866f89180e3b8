package sensitivity

import (
	"encoding/binary"
	"errors"
	"math"
)

// The sums of a slice can be stored and read back, so that it need not be evaluated
// again: 8 bytes a number, little-endian, in the order of the fields. Nothing in them
// says of how many inputs and outputs they are; sums of another shape are an error.

var errSums = errors.New("stored sums have another length than these")

// writer appends numbers.
type writer []byte

func (w *writer) ints(values ...int) {
	for _, v := range values {
		*w = binary.LittleEndian.AppendUint64(*w, uint64(v))
	}
}

func (w *writer) floats(values ...float64) {
	for _, v := range values {
		*w = binary.LittleEndian.AppendUint64(*w, math.Float64bits(v))
	}
}

func (w *writer) extent(e extent) {
	any := 0
	if e.any {
		any = 1
	}
	w.floats(e.low, e.high)
	w.ints(any)
}

// reader takes them off again; past the end all is 0 and short is set.
type reader struct {
	rest  []byte
	short bool
}

func (r *reader) next() uint64 {
	if len(r.rest) < 8 {
		r.short = true
		return 0
	}
	v := binary.LittleEndian.Uint64(r.rest)
	r.rest = r.rest[8:]
	return v
}

func (r *reader) int() int       { return int(r.next()) }
func (r *reader) float() float64 { return math.Float64frombits(r.next()) }

func (r *reader) moments() rowMoments { return rowMoments{r.float(), r.float(), r.float()} }

func (r *reader) extent() extent { return extent{r.float(), r.float(), r.int() == 1} }

func (r *reader) end() error {
	if r.short || len(r.rest) > 0 {
		return errSums
	}
	return nil
}

// AppendBinary appends the sums; an input that reached an output in no row takes one
// number.
func (s *PickFreezeSums) AppendBinary(b []byte) ([]byte, error) {
	w := writer(b)
	for _, o := range s.base {
		w.ints(o.rows, o.feasible)
		w.extent(o.extent)
	}
	for _, k := range s.swaps {
		w.ints(k.rows)
		if k.rows > 0 {
			w.ints(k.kept, k.both, k.any)
			w.floats(k.first, k.total, k.spread)
		}
	}
	return w, nil
}

// UnmarshalBinary reads sums of the same inputs and outputs.
func (s *PickFreezeSums) UnmarshalBinary(b []byte) error {
	r := reader{rest: b}
	for j := range s.base {
		s.base[j] = baseSums{r.int(), r.int(), r.extent()}
	}
	for k := range s.swaps {
		s.swaps[k] = swapSums{rows: r.int()}
		if w := &s.swaps[k]; w.rows != 0 {
			*w = swapSums{w.rows, r.int(), r.int(), r.int(), r.float(), r.float(), r.float()}
		}
	}
	return r.end()
}

// AppendBinary appends the sums.
func (s *ShapleySums) AppendBinary(b []byte) ([]byte, error) {
	w := writer(b)
	for _, o := range s.outputs {
		w.ints(o.rows, o.feasible, o.acting)
		w.extent(o.extent)
		w.floats(o.gains...)
	}
	return w, nil
}

// UnmarshalBinary reads sums of the same players and outputs.
func (s *ShapleySums) UnmarshalBinary(b []byte) error {
	r := reader{rest: b}
	for j := range s.outputs {
		o := &s.outputs[j]
		o.rows, o.feasible, o.acting, o.extent = r.int(), r.int(), r.int(), r.extent()
		for i := range o.gains {
			o.gains[i] = r.float()
		}
	}
	return r.end()
}

// AppendBinary appends the sums; an input that reached an output in no row takes one
// number.
func (s *EffectsSums) AppendBinary(b []byte) ([]byte, error) {
	w := writer(b)
	for _, e := range s.sums {
		w.ints(e.seen)
		if e.seen > 0 {
			w.floats(e.steps.n, e.steps.mean, e.steps.square, e.size, e.base.n, e.base.mean, e.base.square, e.squares, e.fourths)
			w.ints(e.acting)
			w.extent(e.extent)
		}
	}
	return w, nil
}

// UnmarshalBinary reads sums of the same inputs and outputs.
func (s *EffectsSums) UnmarshalBinary(b []byte) error {
	r := reader{rest: b}
	for k := range s.sums {
		s.sums[k] = effectSums{seen: r.int()}
		if e := &s.sums[k]; e.seen != 0 {
			*e = effectSums{e.seen, r.moments(), r.float(), r.moments(), r.float(), r.float(), r.int(), r.extent()}
		}
	}
	return r.end()
}
