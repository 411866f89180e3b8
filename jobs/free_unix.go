//go:build linux || darwin

package jobs

import "golang.org/x/sys/unix"

// free is how many bytes may still be written to the disk of a folder.
func free(folder string) (bytes int64, known bool) {
	var s unix.Statfs_t
	if err := unix.Statfs(folder, &s); err != nil {
		return 0, false
	}
	return int64(s.Bavail) * int64(s.Bsize), true
}
