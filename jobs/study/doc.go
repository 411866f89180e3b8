// Package study reads study files: it turns a stranger's bytes into a Study, or into
// every mistake of the file in one pass.
//
// # What comes out
//
// After Read nothing is a string that should be a number, every number is in SI, every
// name exists, every expression has the right dimension and all that it reads can be
// computed. An error is one line: file:line:column: field: what was found; what is
// allowed. One thing ends a pass early: a YAML syntax error, which YAML parsers do not
// get over.
//
// # How it reads
//
// The bytes are bounded and checked to be text; YAML nodes are bounded in depth and
// number, and aliases, tags, merge keys and second documents refused (load.go, tree.go).
// Each top-level key has a file of its own that reads it into declarations; an item,
// which says how well a number is known, is read by item.go with the table of
// distributions.go, and its numbers by number.go and scale.go. Used files follow, behind
// the study's own lines (use.go). Then vehicles inherit (inherit.go, cars.go), and
// expressions are checked for loops (graph.go), types (types.go) and for what is
// missing. A default of the catalogue is text in the same grammar and is read by the
// same code (default.go).
//
// # What is given and what is computed
//
// A vehicle inherits what it does not state, by the name of the first owner, so that it
// is the same draw. A computed quantity that a base was given is not inherited by a
// vehicle that itself states anything it is made from. With several bases the later
// wins, and masses count from the first that is a car. A template without a mass and
// not run, such as a file of cells, is none.
//
// # Limits
//
// 4 MiB and 1,000,000 nodes a file, 64 levels, 64 vehicles and used files, 1000 entries
// a section; the first 100 mistakes are shown. Nothing is executed, nothing written, and
// no file outside the study's folder is read unless Options allow it. Keys of the format
// that this version does not have are refused as not built yet.
package study
