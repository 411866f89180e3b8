// Package jobs is proofmass from a study file to a result folder. Its root is the
// pipeline and nothing else; each stage is a package of its own:
//
//  1. study   reads and checks the file: errors with a place, or numbers in SI
//  2. plan    chooses columns, compiles the program, says which rounds of slices come next
//  3. run     evaluates slices on several workers, each to a part
//  4. analyse joins the parts, in their order, into statistics, indices, claims
//  5. result  writes tables and the manifest, whole or not at all
//  6. report  reads the folder and says what it answers
//
// Beside it stand inspect, which looks at a study before a run and at a folder after
// it, and reference and notices, which need neither.
//
// A run is a pure function of the study: the same file and seed give the same
// bytes in every table, whatever the number of workers. Nothing is written
// outside the output folder, and nothing at all before the study is found right.
package jobs
