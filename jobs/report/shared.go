package report

import "slices"

// Numbers writes values of one quantity with the digits that their spread deserves; nil
// is a dash.
func Numbers(values ...*float64) []string { return numbers(values...) }

// Short writes a number with three digits.
func Short(x float64) string { return short(x) }

// Guessed reports whether a way of knowing is neither a measurement nor a record.
func Guessed(howKnown string) bool { return slices.Contains(guessed, howKnown) }

// Said is what was announced, in its unit; only of a claim of an announced number.
func (c *Claim) Said() string { return c.said() }

// Tested says in words which values bear the claim out, and why these.
func (c *Claim) Tested() string { return c.tested() }

// Percent writes the chance and its interval in per cent.
func (c *Claim) Percent() string { return percent(*c) }

// InWords is the verdict as a person reads it.
func (c *Claim) InWords() string { return verdicts[c.Verdict] }

// Told is the contradiction in words, with the claims that rest on it.
func (c Contradiction) Told() string { return c.told() }
