// Package compare says what changed between two result folders: in what was put in, in
// what came out, and how much of the latter each change of the former caused.
//
// Causes are Shapley values over the changes (package split): the mean over every order in
// which the old study could have been turned into the new one, change by change. Every
// combination is a study of its own, put together from the lines of both, and is evaluated
// with the same draws: the draws of an input go by its name.
//
// The folders are read and nothing is written into them.
package compare
