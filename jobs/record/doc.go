// Package record tells how good predictions were: what studies foretold against what was
// measured since, from their result folders and a file of outcomes.
//
// The folders are read and nothing is written into them. What a study foretold is its draws of
// a quantity, with the error of the measurement added where the file states one, and the chance
// of a claim.
package record
