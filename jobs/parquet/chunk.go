package parquet

import (
	"bytes"
	"fmt"
	"hash/crc32"

	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// maxPageHeader bounds a page's header; ours are under 60 bytes, and statistics of numbers take as much.
const maxPageHeader = 1 << 16

// chunkReader reads the numbers of one column of a file of any program, chunk by chunk. A page is found, measured and unpacked
// here, since nothing it says may be trusted; the library's encodings turn it into numbers.
type chunkReader struct {
	leaf  leaf
	pages []byte // the file before its footer
	most  int    // values that x may hold
	left  int    // bytes that further chunks may take: chunks do not overlap
	x     []float64

	inflater
	codec      format.CompressionCodec
	dictionary []float64
	unpacked   int // bytes of pages so far
}

// chunk adds the numbers of one row group.
func (r *chunkReader) chunk(c *format.ColumnMetaData) error {
	start := c.DataPageOffset
	if d := c.DictionaryPageOffset; d > 0 && d < start {
		start = d
	}
	size := c.TotalCompressedSize
	switch {
	case c.NumValues < 0 || start < 0 || size < 0 || start > int64(len(r.pages)) || size > int64(len(r.pages))-start || size > int64(r.left):
		return errForeign
	case c.NumValues > int64(r.most-len(r.x)):
		return fmt.Errorf("more than %d values", r.most)
	}
	r.left -= int(size)
	r.codec, r.dictionary = c.Codec, nil
	end := len(r.x) + int(c.NumValues)
	for bytes := r.pages[start : start+size]; len(r.x) < end; {
		var err error
		if bytes, err = r.page(bytes, end-len(r.x)); err != nil {
			return err
		}
	}
	return nil
}

// page reads the page at the beginning of b, which may hold no more than that many values, and returns what follows it.
func (r *chunkReader) page(b []byte, values int) ([]byte, error) {
	h, body, rest, err := pageAt(b)
	if err != nil {
		return nil, err
	}
	switch {
	case h.Type == format.DictionaryPage && h.DictionaryPageHeader.Valid && r.dictionary == nil:
		err = r.readDictionary(h, body)
	case h.Type == format.DataPage && h.DataPageHeader.Valid && within(h.DataPageHeader.V.NumValues, values):
		err = r.dataPage(h, body)
	case h.Type == format.DataPageV2 && h.DataPageHeaderV2.Valid && within(h.DataPageHeaderV2.V.NumValues, values):
		err = r.dataPageV2(h, body)
	case h.Type == format.IndexPage:
	default:
		err = damaged("a page of type %s with more values than there are", h.Type)
	}
	return rest, err
}

func within(n int32, most int) bool { return n >= 0 && int(n) <= most }

// pageAt takes a page apart: header, body as it is stored, what follows.
func pageAt(b []byte) (h *format.PageHeader, body, rest []byte, err error) {
	n, err := structureSize(b[:min(len(b), maxPageHeader)])
	if err != nil {
		return nil, nil, nil, err
	}
	h = new(format.PageHeader)
	if err := thrift.Unmarshal(new(thrift.CompactProtocol), b[:n], h); err != nil {
		return nil, nil, nil, damaged("page header: %v", err)
	}
	size := int(h.CompressedPageSize)
	if size < 0 || size > len(b)-n || h.UncompressedPageSize < 0 {
		return nil, nil, nil, damaged("a page does not lie within its column")
	}
	body, rest = b[n:n+size], b[n+size:]
	if h.CRC != 0 && uint32(h.CRC) != crc32.ChecksumIEEE(body) {
		return nil, nil, nil, damaged("page does not match its checksum")
	}
	return h, body, rest, nil
}

// unpack unpacks part of a page that is to hold that many values. A value takes 8 bytes and a level, in an encoding that pads
// perhaps twice as much; a file that claims more would only make this program work.
func (r *chunkReader) unpack(body []byte, size int, values int32) ([]byte, error) {
	if r.unpacked += size; size < 0 || size > 32*int(values)+1<<14 || r.unpacked > 24*r.most+1<<20 {
		return nil, errInflate
	}
	return r.inflate(r.codec, body, size)
}

func (r *chunkReader) readDictionary(h *format.PageHeader, body []byte) error {
	n := h.DictionaryPageHeader.V.NumValues
	if !within(n, r.most) {
		return fmt.Errorf("a dictionary of more than %d values", r.most)
	}
	body, err := r.unpack(body, int(h.UncompressedPageSize), n)
	if err != nil {
		return err
	}
	if r.dictionary, err = r.leaf.decode(format.Plain, body, int(n)); r.dictionary == nil {
		r.dictionary = []float64{}
	}
	return err
}

func (r *chunkReader) dataPage(h *format.PageHeader, body []byte) error {
	d := &h.DataPageHeader.V
	body, err := r.unpack(body, int(h.UncompressedPageSize), d.NumValues)
	if err != nil {
		return err
	}
	var runs []byte
	if r.leaf.optional {
		if d.DefinitionLevelEncoding != format.RLE {
			return fmt.Errorf("its levels are encoded as %s, which this program does not read", d.DefinitionLevelEncoding)
		}
		if runs, body, err = cutLevels(body); err != nil {
			return err
		}
	}
	return r.values(d.Encoding, runs, body, int(d.NumValues))
}

// dataPageV2 reads a page whose levels stand unpacked before the values.
func (r *chunkReader) dataPageV2(h *format.PageHeader, body []byte) error {
	d := &h.DataPageHeaderV2.V
	before, runs := int64(d.RepetitionLevelsByteLength), int64(d.DefinitionLevelsByteLength)
	if before < 0 || runs < 0 || before+runs > int64(len(body)) || before+runs > int64(h.UncompressedPageSize) {
		return errPage
	}
	packed := body[before+runs:]
	if d.IsCompressed.Valid && !d.IsCompressed.V {
		defer func(c format.CompressionCodec) { r.codec = c }(r.codec)
		r.codec = format.Uncompressed
	}
	var levels []byte
	if r.leaf.optional {
		levels = body[before : before+runs]
	}
	values, err := r.unpack(packed, int(int64(h.UncompressedPageSize)-before-runs), d.NumValues)
	if err != nil {
		return err
	}
	return r.values(d.Encoding, levels, values, int(d.NumValues))
}

// values adds a page's n values; runs are those of its levels where the column may be null.
func (r *chunkReader) values(encoding format.Encoding, runs, body []byte, n int) error {
	if r.leaf.optional {
		present, err := levels(nil, runs, n)
		if err != nil {
			return err
		}
		if i := bytes.IndexByte(present, 0); i >= 0 {
			return r.notNumber(i)
		}
	}
	//lint:ignore SA1019 files of other programs still name it
	if encoding != format.RLEDictionary && encoding != format.PlainDictionary {
		x, err := r.leaf.decode(encoding, body, n)
		if err != nil {
			return err
		}
		return r.take(x)
	}
	at, err := indices(body, n)
	if err != nil {
		return err
	}
	x := make([]float64, n)
	for i, k := range at {
		if k < 0 || int(k) >= len(r.dictionary) {
			return errPage
		}
		x[i] = r.dictionary[k]
	}
	return r.take(x)
}
