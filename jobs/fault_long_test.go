//go:build long

package jobs

const faultStep = 6
