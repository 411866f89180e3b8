// Package model is the contract between what computes a quantity and what asks
// for it: a Quantity says what a number means, a Rule computes columns of it from
// other columns, and a Program is the smallest set of rules that yields the
// outputs somebody wants.
//
// # Data
//
// A column holds one quantity for a block of rows, in coherent SI units; row k of
// every column belongs to the same draw. An infeasible value is NaN, and whatever
// reads it is NaN too.
//
// # Order of evaluation
//
// Compile walks from the wanted names to the inputs, once, and lays the rules out
// so that each stands behind what it needs. A rule that needs no sampled input is
// evaluated once a worker and broadcast. A rule nobody needs is not evaluated.
//
// The package knows no car and no distribution, starts no goroutine and reads no file.
package model
