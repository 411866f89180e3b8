// Package reference is what a study may use and what the words of a result mean:
// the quantities of the built-in model, schedules, distributions, units and the
// words in the tables, each told from where it is declared.
package reference
