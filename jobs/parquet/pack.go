package parquet

import (
	"encoding/binary"
	"sync"

	"github.com/klauspost/compress/zstd"
)

// maxPackedRows bounds the rows of a packed file, and so what a few bytes of a damaged one may become.
const maxPackedRows = 1 << 14

// packer packs pages, and keeps what it needs from page to page.
type packer struct {
	encoder *zstd.Encoder
	scratch []byte
	packed  []byte
}

// split puts the first bytes of all values of 8 bytes first, then the second ones, and so on: bytes of one place are alike.
// Source: Apache Parquet, Encodings.md, byte stream split.
func (p *packer) split(values []byte) {
	p.scratch = append(p.scratch[:0], values...)
	n := len(values) / 8
	for k := range 8 {
		stream := values[k*n : (k+1)*n]
		for i := range stream {
			stream[i] = p.scratch[8*i+k]
		}
	}
}

// unsplit undoes split, from src to dst.
func unsplit(dst, src []byte) {
	n := len(src) / 8
	s0, s1, s2, s3 := src[:n], src[n:2*n], src[2*n:3*n], src[3*n:4*n]
	s4, s5, s6, s7 := src[4*n:5*n], src[5*n:6*n], src[6*n:7*n], src[7*n:8*n]
	for i := range n {
		low := uint64(s0[i]) | uint64(s1[i])<<8 | uint64(s2[i])<<16 | uint64(s3[i])<<24
		binary.LittleEndian.PutUint64(dst[8*i:], low|uint64(s4[i])<<32|uint64(s5[i])<<40|uint64(s6[i])<<48|uint64(s7[i])<<56)
	}
}

// pack returns the packed page, valid until the next call. The encoder goes by one goroutine, so that the same page gives
// the same bytes.
func (p *packer) pack(page []byte) []byte {
	if p.encoder == nil {
		var err error
		if p.encoder, err = zstd.NewWriter(nil, zstd.WithEncoderConcurrency(1), zstd.WithEncoderCRC(false), zstd.WithLowerEncoderMem(true)); err != nil {
			panic("parquet: zstd refuses constant options: " + err.Error())
		}
	}
	p.packed = p.encoder.EncodeAll(page, p.packed[:0])
	return p.packed
}

// unzstd serves all readers: DecodeAll may be called by many goroutines at once.
var unzstd = sync.OnceValue(func() *zstd.Decoder {
	d, err := zstd.NewReader(nil, zstd.WithDecoderConcurrency(0), zstd.WithDecoderLowmem(true), zstd.WithDecodeAllCapLimit(true))
	if err != nil {
		panic("parquet: zstd refuses constant options: " + err.Error())
	}
	return d
})

// mostUnpacked is what a packed page may become: a value takes 8 bytes, and a level.
func mostUnpacked(rows int) int { return 8*rows + rows/8 + 32 }

// unpack unpacks a page of this package's to that size and puts the bytes of floats together again. What it returns lies in
// room, which has twice that size.
func (f *field) unpack(body, room []byte, size int) ([]byte, error) {
	page, err := unzstd().DecodeAll(body, room[:0:size])
	if err != nil || len(page) != size {
		return nil, errInflate
	}
	if f.kind != Float {
		return page, nil
	}
	at := 0
	if f.nullable {
		_, values, err := cutLevels(page)
		if err != nil {
			return nil, err
		}
		at = size - len(values)
	}
	if (size-at)%8 != 0 {
		return nil, errPage
	}
	joined := room[size : 2*size]
	copy(joined, page[:at])
	unsplit(joined[at:], page[at:])
	return joined, nil
}
