package sequential

import (
	"encoding/binary"

	//lint:ignore SA1019 its PCG is the project's choice for work with an order of its own
	"golang.org/x/exp/rand"

	"proofmass/sampling/portable"
)

// A Stream is the random numbers of one climb or one tempering: those of each move of each row
// are a function of its key and of their numbers alone.
type Stream uint64

// NewStream makes the stream of a seed and a purpose.
func NewStream(seed uint64, purpose string) Stream {
	s := Stream(mix(seed + golden))
	for i := range len(purpose) {
		s = s.with(uint64(purpose[i]))
	}
	return s.with(uint64(len(purpose)))
}

const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, the step of splitmix64

// mix is the finaliser of splitmix64 (Steele, Lea and Flood, 2014, OOPSLA, 453-472).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

func (s Stream) with(n uint64) Stream { return Stream(mix((uint64(s) ^ mix(n+golden)) + golden)) }

// of is the key of a round, a population, and further numbers.
func (s Stream) of(numbers ...int) Stream {
	for _, n := range numbers {
		s = s.with(uint64(n))
	}
	return s
}

// unit is the one number in (0, 1) of a key.
func (s Stream) unit() float64 { return unit(mix(uint64(s) + golden)) }

func unit(x uint64) float64 { return (float64(x>>12) + 0.5) * (1.0 / (1 << 52)) }

// A generator draws what follows a key, in its order: PCG XSL RR 128/64 (O'Neill, 2014,
// HMC-CS-2014-0905). Both halves of its state are hashed: the library's own Seed makes them
// equal, which relates the streams of neighbours.
type generator struct {
	source rand.PCGSource
	state  [16]byte
}

func (g *generator) seed(key Stream) {
	binary.BigEndian.PutUint64(g.state[:8], uint64(key))
	binary.BigEndian.PutUint64(g.state[8:], mix(uint64(key)+golden))
	if err := g.source.UnmarshalBinary(g.state[:]); err != nil {
		panic("sequential: " + err.Error()) // only for fewer than 16 bytes
	}
}

func (g *generator) unit() float64 { return unit(g.source.Uint64()) }

func (g *generator) normals(z []float64) {
	for i := range z {
		z[i] = portable.NormalQuantile(g.unit())
	}
}
