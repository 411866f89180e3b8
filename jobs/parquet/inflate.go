package parquet

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"

	"github.com/andybalholm/brotli"
	"github.com/klauspost/compress/snappy"
	"github.com/klauspost/compress/zstd"
	"github.com/parquet-go/parquet-go/format"
	"github.com/pierrec/lz4/v4"
)

var errInflate = damaged("a page is not as long as its header says")

// inflater unpacks pages to the size that their headers tell: no more is ever made, whatever the packed bytes claim. The
// library's own codecs make as much as they are told to. It keeps what a codec needs from page to page.
type inflater struct {
	zstd   *zstd.Decoder
	brotli *brotli.Reader
	gzip   *gzip.Reader
}

// inflate returns what is packed in data, which must be exactly size bytes.
func (f *inflater) inflate(codec format.CompressionCodec, data []byte, size int) ([]byte, error) {
	var out []byte
	var err error
	switch codec {
	case format.Uncompressed:
		out = data
	case format.Snappy:
		if n, err := snappy.DecodedLen(data); err != nil || n != size {
			return nil, errInflate
		}
		out, err = snappy.Decode(nil, data)
	case format.Lz4Raw:
		n := 0
		out = make([]byte, size)
		n, err = lz4.UncompressBlock(data, out)
		out = out[:max(n, 0)]
	case format.Zstd:
		out, err = f.unzstd(data, size)
	case format.Gzip:
		out, err = f.gunzip(data, size)
	case format.Brotli:
		if f.brotli == nil {
			f.brotli = new(brotli.Reader)
		}
		_ = f.brotli.Reset(bytes.NewReader(data)) // has no errors
		out, err = readAll(f.brotli, size)
	default:
		return nil, fmt.Errorf("it is packed as %s, which this program does not read", codec)
	}
	if err != nil || len(out) != size {
		return nil, errInflate
	}
	return out, nil
}

func (f *inflater) unzstd(data []byte, size int) (out []byte, err error) {
	if f.zstd == nil {
		if f.zstd, err = zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true), zstd.WithDecodeAllCapLimit(true)); err != nil {
			return nil, err
		}
	}
	return f.zstd.DecodeAll(data, make([]byte, 0, size))
}

func (f *inflater) gunzip(data []byte, size int) (out []byte, err error) {
	if f.gzip == nil {
		f.gzip = new(gzip.Reader)
	}
	if err := f.gzip.Reset(bytes.NewReader(data)); err != nil {
		return nil, err
	}
	return readAll(f.gzip, size)
}

// readAll reads a stream that must be of that size.
func readAll(r io.Reader, size int) ([]byte, error) {
	out := make([]byte, size+1)
	n, err := io.ReadFull(r, out)
	if err == io.ErrUnexpectedEOF || err == io.EOF {
		err = nil
	}
	return out[:n], err
}

func (f *inflater) close() {
	if f.zstd != nil {
		f.zstd.Close()
	}
}
