package folder

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two folders in one step, so that there is no moment without
// either. It is errors.ErrUnsupported on file systems that cannot.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if err == unix.EINVAL || err == unix.ENOSYS {
		return errors.ErrUnsupported
	}
	return err
}

// lock holds a file for this process, unless another one does.
func lock(f *os.File) bool { return unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) == nil }
