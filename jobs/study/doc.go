// Package study reads study files: it turns a stranger's bytes into a Study, or into
// every mistake of the file in one pass.
//
// # What comes out
//
// After Read nothing is a string that should be a number, every number is in SI, every
// name exists, every expression has the right dimension and all that it reads can be
// computed. A Study is data; its Graph knows where each name comes from. An error is one
// line: file:line:column: field: what was found; what is allowed. One thing ends a pass
// early: a YAML syntax error, which YAML parsers do not get over.
//
// # How it reads, in layers
//
// Package source turns bytes into fields, which know their places and how to say what is
// wrong; it knows no unit and no section. Package uncertain reads how well one number is
// known: a constant, a distribution, an expression, in its unit. Here, first, declare
// reads the sections of the study and of the files that it uses, each in a file of its
// own, into declarations (reader.go, declared.go, use.go); then resolve looks up names:
// vehicles take over what they do not state (inherit.go, cars.go), the graph of names is
// made once (graph.go), expressions are checked for loops, types (types.go) and what is
// missing (compute.go). Each hands data to the next. A default of the catalogue is text
// in the same grammar, read by the same code, once a process (default.go).
//
// # What is stated and what is computed
//
// A vehicle takes over what it does not state, by the name of the first owner, so that it
// is the same draw. A computed quantity that a base states is not taken over by a
// vehicle that itself states anything it is made from. With several bases the later
// wins, and masses count from the first that is a car. A template without a mass and
// not run, such as a file of cells, is none.
//
// # Limits
//
// 4 MiB and 100,000 lines and values a file, 64 levels, 64 vehicles and used files, 1000
// entries a section; the first 100 mistakes are shown. Reading a file allocates less than
// 200 MB. Nothing is executed, nothing written, and no file outside the study's folder is
// read unless Options allow it.
package study
