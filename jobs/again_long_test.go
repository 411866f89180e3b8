//go:build long

package jobs_test

import "testing"

func TestAgainTheSameBytesLong(t *testing.T) { againTheSameBytes(t, 4, allStudies(t)...) }
