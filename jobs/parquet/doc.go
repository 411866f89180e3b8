// Package parquet writes and reads flat Parquet tables. It knows no folder and no file system: it makes bytes, and reads from
// whatever gives bytes at an offset.
//
// Limits of what it writes: tables are flat, one page a column in each row group, at most 2^24 rows a file. What is written from
// one buffer is one group (a slice has 8192 rows), so that one column is read with one read; a Stream makes a group of what it
// is given at once. Numbers may be packed: byte stream split, then zstd. Files of other programs give their columns of numbers
// (ForeignNumbers).
//
// Each group says of its columns the least and greatest value and how many are null, in the footer and in the page index, and a
// file by which columns its rows are sorted: a reader passes over what it does not look for. That adds a thousandth to the
// bytes of a demonstration's sample and less to its time than two runs differ by. Nothing here reads it, but whoever does
// trusts it: .ci/parquet holds two other readers against every value.
//
// Damage is an error, never a panic: pages carry Parquet's own checksum, the footer one of ours. Whatever a file claims, the
// memory and the work it costs are bounded by its length and, for a file of others, by how many values are asked for.
//
// Source of the file format: Apache Parquet format specification 2.x (parquet.thrift, Encodings.md), through the structures
// of github.com/parquet-go/parquet-go/format and that library's encodings. Its writer takes nullable values one at a time
// (BenchmarkEncode compares both in one run), and its reader makes whatever a file tells it to.
package parquet
