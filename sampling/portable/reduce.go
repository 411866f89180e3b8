package portable

import (
	"math"
	"math/bits"
)

const (
	// pi/2 as a sum of three numbers of 53 bits.
	halfPi1 = 1.5707963267948966
	halfPi2 = 6.123233995736766e-17
	halfPi3 = -1.4973849048591698e-33

	// fewTurns is where the products with the parts of pi/2 stop being exact.
	fewTurns = 1 << 19
)

// reduce writes x as k pi/2 + hi + lo, |hi| <= pi/4 but for a rounding, and returns
// k modulo 4. x must be finite.
//
// For a small k each step is exact: x - k halfPi1 is a multiple of the last place of
// both and fits into 53 bits, and the rest is carried as a pair. So nothing is lost
// where x is near a multiple of pi/2.
func reduce(x float64) (k int, hi, lo float64) {
	if math.Abs(x) > fewTurns {
		return reduceLarge(x)
	}
	n := math.RoundToEven(float64(x * (2 / math.Pi)))
	r := math.FMA(-n, halfPi1, x)
	p := float64(n * halfPi2)
	pLo := math.FMA(n, halfPi2, -p)
	hi, lo = twoSum(r, -p)
	hi, lo = twoSum(hi, lo-(pLo+float64(n*halfPi3)))
	return int(n) & 3, hi, lo
}

// reduceLarge reduces with as many bits of 2/pi as the exponent of x needs (Payne
// and Hanek, 1983, SIGNUM Newsletter 18, 19-24): the product of the 53-bit integer
// of x with 192 bits of 2/pi, taken modulo 4. No float64 is nearer to a multiple of
// pi/2 than 2^-62 of a turn, so that at least 60 bits of the rest are right.
func reduceLarge(x float64) (k int, hi, lo float64) {
	b := math.Float64bits(x)
	exponent := int(b>>52&0x7ff) - 1075 // x = mantissa 2^exponent
	mantissa := b&(1<<52-1) | 1<<52
	// The bit of 2/pi with weight 2^-j is bit 64-j of the table, which begins with
	// two words of zeros. Taken from weight 2^(1-exponent) down, the product with the
	// mantissa, an integer, leaves out only multiples of 4.
	first := exponent - 2 + 128
	var w [3]uint64
	for i := range w {
		w[i] = wordOfTwoOverPi(first + 64*i)
	}
	// product of mantissa and w, modulo 2^192: the top two bits are k modulo 4
	h2, l2 := bits.Mul64(w[2], mantissa)
	h1, l1 := bits.Mul64(w[1], mantissa)
	mid, carry := bits.Add64(l1, h2, 0)
	top := w[0]*mantissa + h1 + carry
	k = int(top >> 62)
	fraction, below, last := top<<2|mid>>62, mid<<2|l2>>62, l2<<2
	negative := fraction>>63 == 1
	if negative { // the nearest multiple is the next one
		k++
		last, carry = bits.Add64(^last, 1, 0)
		below, carry = bits.Add64(^below, 0, carry)
		fraction = ^fraction + carry
	}
	hi, lo = fractionOfTurn(fraction, below, last)
	if negative {
		hi, lo = -hi, -lo
	}
	if x < 0 {
		k, hi, lo = -k, -hi, -lo
	}
	return k & 3, hi, lo
}

// wordOfTwoOverPi returns 64 bits of the table from bit number first on.
func wordOfTwoOverPi(first int) uint64 {
	i, shift := first/64, uint(first%64)
	return twoOverPi[i]<<shift | twoOverPi[i+1]>>(64-shift)
}

// fractionOfTurn returns pi/2 times the fraction a 2^-64 + b 2^-128 + c 2^-192.
func fractionOfTurn(a, b, c uint64) (hi, lo float64) {
	scale := 0
	for a == 0 && scale < 128 {
		a, b, c, scale = b, c, 0, scale+64
	}
	n := bits.LeadingZeros64(a)
	a, b = a<<n|b>>(64-n), b<<n|c>>(64-n)
	scale += n
	top := float64(a >> 11)                               // 53 bits
	rest := float64((a<<53|b>>11)>>1) * (1.0 / (1 << 63)) // of the last of them
	f := math.Ldexp(top, -53-scale)
	g := math.Ldexp(rest, -53-scale)
	hi = float64(f * halfPi1)
	lo = math.FMA(f, halfPi1, -hi) + (float64(f*halfPi2) + float64(g*halfPi1))
	return twoSum(hi, lo)
}

// twoOverPi are two words of zeros and the binary digits of 2/pi (mpmath; the first
// word is 0xa2f9836e4e441529).
var twoOverPi = [...]uint64{
	0, 0,
	0xa2f9836e4e441529, 0xfc2757d1f534ddc0, 0xdb6295993c439041, 0xfe5163abdebbc561,
	0xb7246e3a424dd2e0, 0x06492eea09d1921c, 0xfe1deb1cb129a73e, 0xe88235f52ebb4484,
	0xe99c7026b45f7e41, 0x3991d639835339f4, 0x9c845f8bbdf9283b, 0x1ff897ffde05980f,
	0xef2f118b5a0a6d1f, 0x6d367ecf27cb09b7, 0x4f463f669e5fea2d, 0x7527bac7ebe5f17b,
	0x3d0739f78a5292ea, 0x6bfb5fb11f8d5d08, 0x56033046fc7b6bab, 0xf0cfbc209af4361d,
	0xa9e391615ee61b08, 0x6599855f14a06840,
}
