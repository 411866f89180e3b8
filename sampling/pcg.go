package sampling

import (
	"encoding/binary"

	//lint:ignore SA1019 its PCG is the project's choice; math/rand/v2 takes this source as any other
	"golang.org/x/exp/rand"
)

// PCG is a sequential generator for work that has an order of its own:
// bootstrap, permutation tests, chains. It is PCG XSL RR 128/64 (O'Neill,
// 2014, HMC-CS-2014-0905). Designs do not use it: their draws are keyed.
//
// It serves wherever a source with Uint64 is wanted: math/rand/v2's rand.New,
// gonum's distributions, and with Seed golang.org/x/exp/rand. One goroutine at
// a time.
type PCG struct{ source rand.PCGSource }

// Source returns a generator whose whole state, 128 bits, is hashed from k.
// Sources of different keys are independent streams for practical purposes.
func Source(k Key) *PCG {
	p := new(PCG)
	p.seed(k)
	return p
}

// Uint64 returns the next number, all 2^64 values alike likely.
func (p *PCG) Uint64() uint64 { return p.source.Uint64() }

// Seed starts the generator anew, as Source(NewKey(seed)) would.
func (p *PCG) Seed(seed uint64) { p.seed(NewKey(seed)) }

// seed sets both halves of the state; the library's own Seed makes them equal,
// which relates the streams of neighbouring seeds.
func (p *PCG) seed(k Key) {
	var state [16]byte
	binary.BigEndian.PutUint64(state[:8], k.Uint64(0))
	binary.BigEndian.PutUint64(state[8:], k.Uint64(1))
	if err := p.source.UnmarshalBinary(state[:]); err != nil {
		panic("sampling: " + err.Error()) // only for fewer than 16 bytes
	}
}
