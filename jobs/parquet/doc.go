// Package parquet writes and reads flat Parquet tables. It knows no folder and no file system: it makes bytes, and reads from
// whatever gives bytes at an offset.
//
// Limits of what it writes: tables are flat and uncompressed, one row group, one page a column, at most 2^24 rows a file, so
// that a file is written from one buffer and one column is read with one read. Files of other programs give their columns of
// numbers (ForeignNumbers).
//
// Damage is an error, never a panic: pages carry Parquet's own checksum, the footer one of ours. Whatever a file claims, the
// memory and the work it costs are bounded by its length and, for a file of others, by how many values are asked for.
//
// Source of the file format: Apache Parquet format specification 2.x (parquet.thrift, Encodings.md), through the structures
// of github.com/parquet-go/parquet-go/format and that library's encodings. Its writer takes nullable values one at a time
// (BenchmarkEncode compares both in one run), and its reader makes whatever a file tells it to.
package parquet
