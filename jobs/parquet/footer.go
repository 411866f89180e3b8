package parquet

import "encoding/binary"

// checkFooter looks at the footer of any Parquet file before a library decodes it:
// that it lies within the file, and that no list in it claims to be longer than
// the bytes that are left. A library that trusts a damaged one takes gigabytes.
func checkFooter(file []byte) error {
	n := len(file)
	if n < 12 || string(file[:4]) != "PAR1" || string(file[n-4:]) != "PAR1" {
		return damaged("it does not begin and end as a Parquet file does")
	}
	size := int64(binary.LittleEndian.Uint32(file[n-8:]))
	if size > int64(n-12) {
		return damaged("a footer of %d bytes in a file of %d", size, n)
	}
	return checkThrift(file[n-8-int(size) : n-8])
}
