package parquet

import "encoding/binary"

// footerOf returns the footer of any Parquet file, checked to lie within the file.
func footerOf(file []byte) ([]byte, error) {
	n := len(file)
	if n < 12 || string(file[:4]) != magic || string(file[n-4:]) != magic {
		return nil, damaged("it does not begin and end as a Parquet file does")
	}
	size := int64(binary.LittleEndian.Uint32(file[n-8:]))
	if size > int64(n-12) {
		return nil, damaged("a footer of %d bytes in a file of %d", size, n)
	}
	return file[n-8-int(size) : n-8], nil
}
