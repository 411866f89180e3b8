package vehicle

import "testing"

// TestNothingAllocated: a block of rows takes no memory.
func TestNothingAllocated(t *testing.T) {
	p := everything(t)
	w := p.NewWorker(64)
	fillAll(t, p, w, 1)
	if n := testing.AllocsPerRun(20, func() { w.Run(64) }); n >= 1 {
		t.Errorf("%g allocations a block", n)
	}
}
