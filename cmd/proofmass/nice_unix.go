//go:build unix

package main

import (
	"os"
	"strconv"
	"syscall"
)

// beNice lowers the priority of this process. On Linux that is one of each thread: those
// that are there are lowered one by one, and later ones begin as the one that starts them.
func beNice(by int) error {
	threads, err := os.ReadDir("/proc/self/task")
	if err != nil {
		return syscall.Setpriority(syscall.PRIO_PROCESS, 0, by)
	}
	for _, t := range threads {
		id, err := strconv.Atoi(t.Name())
		if err != nil {
			continue
		}
		if err := syscall.Setpriority(syscall.PRIO_PROCESS, id, by); err != nil {
			return err
		}
	}
	return nil
}
