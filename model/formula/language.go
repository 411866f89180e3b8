package formula

// Help describes a function or an operator, for a listing.
type Help struct {
	Name, Form, Meaning string
}

// A function takes from least to most arguments.
type function struct {
	name, form  string
	op          op
	least, most int
	meaning     string
}

const anyNumber = 1 << 30

// functions are all that an expression may call; the list is grammar and help text at
// once. Of two names for one op the first is printed.
var functions = []function{
	{"if", "if(condition, a, b)", opIf, 3, 3, "a where the condition holds, else b; what is not taken need not be feasible"},
	{"min", "min(a, b, ...)", opMin, 2, anyNumber, "the smallest"},
	{"max", "max(a, b, ...)", opMax, 2, anyNumber, "the largest"},
	{"abs", "abs(a)", opAbs, 1, 1, "the size without its sign"},
	{"sqrt", "sqrt(a)", opSqrt, 1, 1, "the square root, of a number with a unit too: sqrt(4 m2) is 2 m"},
	{"exp", "exp(a)", opExp, 1, 1, "e to the power of a plain number"},
	{"log", "log(a)", opLog, 1, 1, "the natural logarithm of a plain number"},
	{"ln", "ln(a)", opLog, 1, 1, "the same as log"},
	{"log10", "log10(a)", opLog10, 1, 1, "the logarithm to base 10 of a plain number"},
	{"floor", "floor(a)", opFloor, 1, 1, "the whole number at or below a plain number"},
	{"ceil", "ceil(a)", opCeil, 1, 1, "the whole number at or above a plain number"},
	{"sin", "sin(a)", opSin, 1, 1, "the sine of an angle in radians; 30 degree is one too"},
	{"cos", "cos(a)", opCos, 1, 1, "the cosine of an angle"},
	{"tan", "tan(a)", opTan, 1, 1, "the tangent of an angle"},
	{"asin", "asin(a)", opAsin, 1, 1, "the angle with that sine, -pi/2 to pi/2"},
	{"acos", "acos(a)", opAcos, 1, 1, "the angle with that cosine, 0 to pi"},
	{"atan", "atan(a)", opAtan, 1, 1, "the angle with that tangent, -pi/2 to pi/2"},
	{"atan2", "atan2(y, x)", opAtan2, 2, 2, "the angle of the point (x, y) from the x axis, -pi to pi; x and y of one dimension"},
}

// Language tells what an expression is made of: functions, then operators from the
// tightest to the loosest, then what stands between them.
func Language() []Help {
	var all []Help
	for _, f := range functions {
		all = append(all, Help{f.name, f.form, f.meaning})
	}
	return append(all,
		Help{"^", "a^n", "a power: of a number with a unit by a whole constant alone; -a^2 is -(a^2)"},
		Help{"*", "a * b, a / b", "a product, a quotient; units multiply too"},
		Help{"+", "a + b, a - b", "a sum, a difference, of one dimension; a temperature less a temperature is a difference in K"},
		Help{"<", "a < b, <=, >, >=", "a comparison of two numbers of one dimension; there is no equality, which a drawn number meets with chance 0"},
		Help{"not", "not c", "the condition does not hold"},
		Help{"and", "c and d, c or d", "both conditions hold, one of them holds; and binds tighter than or"},
		Help{"name", "kerb_mass, car.kerb_mass", "an input, an own quantity, an output, or what a vehicle has"},
		Help{"number", "15 kWh, 8 %, 15 (kWh/100 km)", "a number, with a unit as it stands or in brackets; 1_000, 1e3"},
		Help{"pi", "pi", "3.14159..."},
	)
}

// Functions returns the names of the functions, in a fixed order.
func Functions() []string {
	names := make([]string, 0, len(functions))
	for _, f := range functions {
		names = append(names, f.name)
	}
	return names
}
