//go:build long

package jobs_test

import "testing"

func TestReducedSchedulesGiveTheSameTablesLong(t *testing.T) {
	reducedSchedulesGiveTheSameTables(t, "heron.yaml")
}
