//go:build long

package jobs

import "testing"

func TestEveryFileOperationFails(t *testing.T) { fileOperationsFail(t, 6) }

func TestEveryFileOperationOfAReplacementFails(t *testing.T) { fileOperationsOfAReplacementFail(t, 12) }
