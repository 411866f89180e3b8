package design

import (
	"math"
	"testing"
)

// TestSplitMix: the first outputs of splitmix64 from seed 1234567, computed
// from the constants of Steele, Lea and Flood (2014) by a program of its own.
func TestSplitMix(t *testing.T) {
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := mix(1234567 + golden*uint64(i+1)); got != want {
			t.Errorf("output %d is %d, want %d", i, got, want)
		}
	}
}

func TestKeysDiffer(t *testing.T) {
	seen := map[Key]string{}
	add := func(what string, k Key) {
		if other, ok := seen[k]; ok {
			t.Errorf("%s and %s have one key", what, other)
		}
		seen[k] = what
	}
	add("1", NewKey(1))
	add("2", NewKey(2))
	add("ab c", NewKey(1, "ab", "c"))
	add("a bc", NewKey(1, "a", "bc"))
	add("abc", NewKey(1, "abc"))
	add("empty word", NewKey(1, ""))
	add("nine letters", NewKey(1, "abcdefghi"))
	add("eight letters", NewKey(1, "abcdefgh"))
	add("eight and one", NewKey(1, "abcdefgh", "i"))
	for n := range uint64(1000) {
		add("with", NewKey(1).With(n))
	}
}

func TestUnitStaysInside(t *testing.T) {
	if low, high := unit(0), unit(math.MaxUint64); low != 0x1p-53 || high != 1-0x1p-53 {
		t.Errorf("ends %v and %v, want 2^-53 and 1-2^-53", low, high)
	}
}

// TestFrozen: streams never change: a study run again years later draws the
// same rows. Values taken when the design was made.
func TestFrozen(t *testing.T) {
	k := NewKey(42, "sample", "drag_coefficient")
	for _, c := range []struct {
		what      string
		got, want uint64
	}{
		{"key", uint64(k), 10959945572344725641},
		{"number 0", k.bits(0), 15181616305099322944},
		{"number 1000000", k.bits(1000000), 905866703340562987},
	} {
		if c.got != c.want {
			t.Errorf("%s is %d, want %d", c.what, c.got, c.want)
		}
	}
}
