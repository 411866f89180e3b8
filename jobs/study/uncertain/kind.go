package uncertain

// A Kind says what an input is: one number, a distribution or an expression.
type Kind int

// The kinds of input.
const (
	Constant Kind = iota
	Uncertain
	Formula
)
