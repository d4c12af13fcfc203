package cmd

import (
	"os"

	"golang.org/x/sys/unix"
)

// exchange lets a file and a temporary one change names in one step, and gives what the file held.
// Where the file system cannot, it gives what stood there just before.
func exchange(temporary, target string) (displaced []byte, err error) {
	err = unix.Renameat2(unix.AT_FDCWD, temporary, unix.AT_FDCWD, target, unix.RENAME_EXCHANGE)
	if err == unix.EINVAL || err == unix.ENOSYS || err == unix.ENOTSUP {
		return takeName(temporary, target)
	}
	if err != nil {
		return nil, err
	}
	return os.ReadFile(temporary)
}
