package jobs

import (
	"os"
	"os/exec"
	"testing"
	"time"

	"proofmass/jobs/result"
)

// A process of this host that was killed works no more from then on; one of another host, of
// which only its journal tells, does until it has been silent for long.
func TestKilledProcessWorksNoMore(t *testing.T) {
	dead := exec.Command(os.Args[0], "-test.run", "^$")
	if err := dead.Run(); err != nil {
		t.Fatal(err)
	}
	asked := exec.Command(os.Args[0], "-test.run", "^$")
	if err := asked.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = asked.Wait() }()
	host, boot := result.Here()
	now := time.Now()
	unasked := Process{Host: host, Boot: boot, PID: asked.Process.Pid, Told: "round", Heard: now}
	for range 1000 { // it ends, and nobody has asked how
		if !unasked.Works(now) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	for _, c := range []struct {
		what string
		p    Process
		want bool
	}{
		{"this one", Process{Host: host, Boot: boot, PID: os.Getpid(), Told: "round", Heard: now}, true},
		{"one that ended", Process{Host: host, Boot: boot, PID: os.Getpid(), Told: "finished", Heard: now}, false},
		{"one that was killed", Process{Host: host, Boot: boot, PID: dead.Process.Pid, Told: "round", Heard: now}, false},
		{"one that ended unasked", unasked, false},
		{"another host's", Process{Host: host + "2", Boot: boot, PID: dead.Process.Pid, Told: "round", Heard: now}, true},
		{"another host's of this name", Process{Host: host, Boot: boot + "2", PID: dead.Process.Pid, Told: "round", Heard: now}, true},
		{"a silent one", Process{Host: host + "2", PID: dead.Process.Pid, Told: "round", Heard: now.Add(-2 * time.Minute)}, false},
	} {
		if got := c.p.Works(now); got != c.want {
			t.Errorf("%s: works: %v", c.what, got)
		}
	}
}
