// Package result is the result folder of a study: its tables, its slices, its manifest, and reading them back. It takes plain
// data: it knows neither studies nor vehicles.
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
// Tables and slices are Parquet files (package parquet). Only tables written by this package are read back; anyone else reads
// them with any Parquet reader. Only who holds a folder's Lock writes to it.
package result
