// Package inspect looks at a study before it is run (Check) and at a result folder
// after it (Show, Row). It reads both as a run does, through jobs, and writes nothing.
package inspect
