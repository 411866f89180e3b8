package portable

// LogSum returns the natural logarithm of positive finite x as a sum of two
// numbers, with a relative error near 2^-65: what ExpSum needs for powers whose
// exponents are large.
func LogSum(x float64) (hi, lo float64) { return logPair(x) }
