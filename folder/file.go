package folder

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// ErrMachine marks failures of the machine rather than of what it was told: a
// full disk, a file larger than a limit allows, a place it may not write to.
var ErrMachine = errors.New("the machine failed")

// Machine marks an error as ErrMachine.
func Machine(err error) error { return machineError{err} }

type machineError struct{ error }

func (m machineError) Is(target error) bool { return target == ErrMachine }
func (m machineError) Unwrap() error        { return m.error }

// Make makes a folder and those above it, where they are not there.
func Make(path string) error { return told(path, os.MkdirAll(path, 0o777)) }

// WriteFile puts data in place as a whole or not at all: it is written beside
// the file under another name, brought to disk and renamed.
func WriteFile(name string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return told(name, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err := f.Write(data); err != nil {
		return told(name, err)
	}
	if err := cmp.Or(f.Sync(), f.Chmod(0o644), f.Close()); err != nil {
		return told(name, err)
	}
	return told(name, os.Rename(f.Name(), name))
}

// misnamed are the errors of a place that the user named wrongly: there is no
// such folder, or something else is in the way.
var misnamed = []error{fs.ErrNotExist, fs.ErrExist, syscall.ENOTDIR, syscall.EISDIR, syscall.ENAMETOOLONG, syscall.ELOOP}

// told speaks of the file that was asked for rather than of the one beside it,
// and parts what the user named wrongly from a machine that failed.
func told(name string, err error) error {
	if err == nil {
		return nil
	}
	why := reason(err)
	for _, m := range misnamed {
		if errors.Is(err, m) {
			return fmt.Errorf("cannot write %s: %w; name another place", name, why)
		}
	}
	return Machine(fmt.Errorf("cannot write %s: %w; see to the room, limits and permissions there, or name another place", name, why))
}

// reason is an error without the call and the path that it carries.
func reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
