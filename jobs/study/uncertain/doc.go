// Package uncertain reads how well a number is known: a constant with its unit, a value
// with its standard uncertainty, a distribution, readings, a file of values, or an
// expression.
//
// It takes a field of a file and gives a Number in SI, or mistakes at their places. What
// the number is of comes in as a model.Quantity (its unit, limits and whether it is a
// temperature) or not at all; the package knows no section of a study and no vehicle. A
// Context holds what the numbers of one study share.
package uncertain
