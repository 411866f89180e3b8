// Package formula compiles expressions to column programs: formula inputs,
// extra outputs, conditions of claims and whole models made of formulas.
//
// Parse reads the text, Check gives every part its dimension, Program compiles
// it, and Eval runs it over columns:
//
//	e, err := formula.Parse("(boxed.kerb_mass - bonded.kerb_mass) / bonded.cell_count")
//	kind, err := e.Check(typeOf)
//	e.Program().Eval(out, in) // in[i] is the column of e.Names()[i], in SI
//
// # Language
//
// From the loosest to the tightest: or; and; not; one comparison (< <= > >=);
// + and -; * and /; a leading minus; ^ (to the right, so -x^2 is -(x^2)).
// Functions are those of Functions; pi is a number. A number may have a unit,
// either one run of letters, digits, %, / and ^ (15 kWh, 8 %), or in
// brackets: 15 (kWh/100 km). A bare word is a name, with at most two dots
// (bonded.displaced.floor_panel).
//
// Angles are plain numbers, in radians; atan2(y, x) takes two of one dimension. An
// exponent that is a constant whole number from -100 to 100 may stand at any
// number; any other at a plain number alone, which must not be negative unless the
// exponent is whole. sqrt is the root of a number with a unit.
//
// Temperatures: a sum or a comparison tells absolute ones (degC, catalogue
// temperatures) from differences; a literal in K is either. Products and
// quotients take an absolute temperature as its kelvin, as Arrhenius and
// Carnot need it.
//
// # Infeasible rows
//
// A row is infeasible, and its result the one NaN of math.NaN, where a value
// that the expression reads is NaN or infinite, or where any of its steps is
// not finite: 1/0, log(-1), asin(2), (-1)^0.5, an overflow. That holds under not, comparisons,
// min, max, and under and and or even if the other side would decide alone.
// Only the branch of if that is not taken does not count.
//
// # Bits and speed
//
// Results are equal to the last bit on every machine: each step is one rounded
// operation on a column, so no product is fused with a sum, and exp, log, powers
// and the trigonometric functions are those of package portable. A whole power is repeated squaring, from the
// lowest binary digit of the exponent up; a negative one its reciprocal.
//
// # Limits
//
// A text has at most 4096 bytes and 64 levels of nesting. There are no variables, assignments, loops, strings, and no
// equality, which a drawn number meets with chance 0.
package formula
