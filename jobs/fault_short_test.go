//go:build !long

package jobs

// faultStep: how many operations further the next is that fails.
const faultStep = 41
