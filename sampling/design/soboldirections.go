package design

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
)

// mostDimensions is how many dimensions Sobol' and Halton designs have.
const mostDimensions = 256

//go:embed table/sobol_directions_256.csv
var sobolCSV string

// SobolNotice is the copyright notice and the licence of the direction numbers,
// which every copy of the program has to come with.
//
//go:embed table/sobol_directions_256_NOTICE.txt
var SobolNotice string

// directions are the direction numbers of one dimension, summed up: element k is
// v_0 ^ ... ^ v_k, digits from the highest bit down.
//
// Point i in natural order is the XOR of v_b over the digits b of i; with the sums
// it is that over the digits of i ^ (i>>1), and the step from point i to i+1 is one
// element, that of the lowest digit of i+1.
type directions [32]uint32

// point returns point i in natural order.
func (d *directions) point(i uint32) uint32 {
	var x uint32
	for b, g := 0, i^i>>1; g > 0; b, g = b+1, g>>1 {
		x ^= d[b] & -(g & 1)
	}
	return x
}

// sobolTable has the directions of all dimensions.
var sobolTable = sync.OnceValue(func() *[mostDimensions]directions {
	var table [mostDimensions]directions
	for k := range table[0] {
		table[0][k] = 1 << (31 - k) // the first dimension is van der Corput's sequence
	}
	for line := range strings.Lines(sobolCSV) {
		if line[0] >= '0' && line[0] <= '9' {
			dimension, v := readDirections(line)
			table[dimension-1] = v
		}
	}
	for j := range table {
		for k := 1; k < 32; k++ {
			table[j][k] ^= table[j][k-1]
		}
	}
	return &table
})

// readDirections continues a line of the table, "dimension,s,a,m_1 ... m_s", by
//
//	m_k = 2 a_1 m_(k-1) ^ 4 a_2 m_(k-2) ^ ... ^ 2^(s-1) a_(s-1) m_(k-s+1) ^ 2^s m_(k-s) ^ m_(k-s)
//
// and returns v_k = m_k 2^-k. The table is part of the program: one that can't be
// read is a mistake in it.
func readDirections(line string) (dimension int, v directions) {
	var s, a int
	field := strings.SplitN(strings.TrimSpace(line), ",", 4)
	if _, err := fmt.Sscan(strings.Join(field[:3], " "), &dimension, &s, &a); err != nil {
		panic("sampling: table of direction numbers: " + err.Error())
	}
	var m directions
	for k, text := range strings.Fields(field[3]) {
		if _, err := fmt.Sscan(text, &m[k]); err != nil {
			panic("sampling: table of direction numbers: " + err.Error())
		}
	}
	for k := s; k < 32; k++ {
		m[k] = m[k-s] ^ m[k-s]<<s
		for i := 1; i < s; i++ {
			m[k] ^= m[k-i] << i * uint32(a>>(s-1-i)&1)
		}
	}
	for k := range m {
		v[k] = m[k] << (31 - k)
	}
	return dimension, v
}
