// Package compare says what changed between two result folders: in what was put in, in
// what came out, and how much of the latter each change of the former caused.
//
// Causes are Shapley values over the changes: of every order in which the old study could
// have been turned into the new one, change by change, the mean of what each change did at
// its turn (Shapley 1953, A value for n-person games). So no order is preferred, a change
// that does nothing gets nothing, and the causes of one figure add up to its change. Up to
// mostExact changes all combinations are evaluated; with more, random orders and their
// reverses (Castro, Gomez and Tejada 2009, Computers & Operations Research 36; the
// reverses halve what depends on the place in the order). Every combination is a study of
// its own, put together from the lines of both, and is evaluated with the same draws: the
// draws of an input go by its name.
//
// The folders are read and nothing is written into them.
package compare
