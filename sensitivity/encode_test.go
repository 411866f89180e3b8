package sensitivity

import (
	"bytes"
	"encoding"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

type stored interface {
	encoding.BinaryAppender
	encoding.BinaryUnmarshaler
}

// fillAll puts a number of its own into every field, but leaves every third element of a
// list of structs as it is: such of which no row was added.
func fillAll(random *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Int:
		*(*int)(v.Addr().UnsafePointer()) = 1 + random.IntN(1000)
	case reflect.Bool:
		*(*bool)(v.Addr().UnsafePointer()) = true
	case reflect.Float64:
		*(*float64)(v.Addr().UnsafePointer()) = random.NormFloat64()
	case reflect.Struct:
		for i := range v.NumField() {
			fillAll(random, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			if v.Index(i).Kind() != reflect.Struct || i%3 != 2 {
				fillAll(random, v.Index(i))
			}
		}
	}
}

// Every number of the sums of every kind comes back with its bits, and bytes of another
// length are refused.
func TestSumsComeBack(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	pick, shapley, effects := NewPickFreeze(3, 4), NewShapley(3, 4, 2), NewEffects(3, 4, 2)
	for _, c := range []struct{ from, to stored }{
		{pick.NewSums(), pick.NewSums()}, {shapley.NewSums(), shapley.NewSums()}, {effects.NewSums(), effects.NewSums()},
	} {
		whole := reflect.ValueOf(c.from).Elem()
		for i := range whole.NumField() {
			if f := whole.Field(i); f.Kind() == reflect.Slice {
				fillAll(random, f)
			}
		}
		data, err := c.from.AppendBinary([]byte("before"))
		if err != nil || !bytes.HasPrefix(data, []byte("before")) {
			t.Fatalf("%T: %v", c.from, err)
		}
		data = data[len("before"):]
		if err := c.to.UnmarshalBinary(data); err != nil || !reflect.DeepEqual(c.from, c.to) {
			t.Errorf("%T: %v; read\n%+v, wrote\n%+v", c.from, err, c.to, c.from)
		}
		for _, wrong := range [][]byte{data[:len(data)-1], append(bytes.Clone(data), 0), nil} {
			if err := c.to.UnmarshalBinary(wrong); err == nil {
				t.Errorf("%T: %d bytes are read, %d are right", c.from, len(wrong), len(data))
			}
		}
	}
}

// What is infeasible or not a number keeps its bits too.
func TestSumsKeepNaN(t *testing.T) {
	p := NewPickFreeze(1, 1)
	s, again := p.NewSums(), p.NewSums()
	s.base[0] = baseSums{3, 0, extent{math.NaN(), math.Inf(-1), false}}
	data, err := s.AppendBinary(nil)
	if err != nil || again.UnmarshalBinary(data) != nil {
		t.Fatal(err)
	}
	if math.Float64bits(again.base[0].low) != math.Float64bits(math.NaN()) || !math.IsInf(again.base[0].high, -1) {
		t.Errorf("read %+v", again.base[0])
	}
}
