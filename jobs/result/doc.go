// Package result is the result folder of a study: its Parquet tables, its manifest, and reading both back. It is the only
// package that knows Parquet, and it takes plain data: it knows neither studies nor vehicles.
//
// The folder
//
//	manifest.json                        what was run, with what, and the digest of every file below
//	study.yaml, given/                   the study as read and every other file it read
//	samples/0000/slice-00000000.parquet  a row a draw, a folder a round; other kinds of rounds: work/KIND/0000/
//	summary, indices, tornado, claims    .parquet, the tables
//
//	.proofmass-lock, .proofmass-next     while a run writes: whose it is, and the result that is to replace the one there
//
// Five promises. A file appears whole or not at all: it is written under a temporary name beside its place, flushed to the
// disk, renamed, and the folder flushed. The same values give the same bytes. A folder that holds anything else is refused and
// left alone. Damage is an error that names the file, never a panic: pages carry Parquet's own checksum, the footer and
// the manifest one of ours, and the manifest holds the SHA-256 of each file.
//
// Limits: tables are flat and uncompressed, one row group, one page a column, at most 2^24 rows a file, so that a slice is
// written from one buffer and one column is read with one read. Only tables written by this package are read back; anyone else
// reads them with any Parquet reader. Only who holds a folder's Lock writes to it.
//
// Source of the file format: Apache Parquet format specification 2.x (parquet.thrift, Encodings.md), through the structures
// of github.com/parquet-go/parquet-go/format. That library's own writer takes nullable values one at a time; BenchmarkSlice
// compares both in one run.
package result
