package design

import "math/bits"

// A Key names a stream of random numbers: number i of the stream is a pure
// function of the key and i, so any part of it can be made alone, anywhere.
// Keys made from different words are independent for every practical purpose.
type Key uint64

// golden is 2^64 over the golden ratio, the step of splitmix64.
const golden = 0x9e3779b97f4a7c15

// mix is the finaliser of splitmix64: a bijection of 64 bits in which every
// input bit flips every output bit with chance near one half.
// Source: Steele, Lea and Flood (2014), OOPSLA, 453-472.
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// NewKey makes a key of a seed and words, in order. A word counts with its
// length, so "ab", "c" and "a", "bc" differ; the length is offset, so that an
// empty word is not With(0).
func NewKey(seed uint64, words ...string) Key {
	k := Key(mix(seed + golden))
	for _, w := range words {
		k = k.With(golden + uint64(len(w)))
		for len(w) > 0 {
			var chunk uint64
			n := min(len(w), 8)
			for i := range n {
				chunk |= uint64(w[i]) << (8 * i)
			}
			k, w = k.With(chunk), w[n:]
		}
	}
	return k
}

// With returns the key that n makes of this one.
func (k Key) With(n uint64) Key { return Key(mix((uint64(k) ^ mix(n+golden)) + golden)) }

// bits returns number i of the stream, all 2^64 values alike likely.
func (k Key) bits(i uint64) uint64 { return mix(mix(i+golden) ^ uint64(k)) }

// Unit returns number i of the stream in (0, 1): one of the 2^52 values
// (j + 1/2) 2^-52, never 0 nor 1, so that no quantile of it is infinite.
func (k Key) Unit(i uint64) float64 { return unit(k.bits(i)) }

func unit(x uint64) float64 { return (float64(x>>12) + 0.5) * (1.0 / (1 << 52)) }

// below returns number i of the stream in 0..n-1, with a bias below n 2^-64.
func (k Key) below(i, n uint64) uint64 {
	hi, _ := bits.Mul64(k.bits(i), n)
	return hi
}
