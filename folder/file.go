package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrMachine marks failures of the machine rather than of what it was told: a
// full disk, a file larger than a limit allows.
var ErrMachine = errors.New("the machine failed")

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
	if err := errors.Join(f.Sync(), f.Chmod(0o644), f.Close()); err != nil {
		return told(name, err)
	}
	return told(name, os.Rename(f.Name(), name))
}

// told speaks of the file that was asked for rather than of the one beside it,
// and parts what the user named wrongly, a folder that is not there or not
// theirs, from a machine that failed.
func told(name string, err error) error {
	if err == nil {
		return nil
	}
	wrong := errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) || errors.Is(err, fs.ErrExist)
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	if wrong {
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	return fmt.Errorf("cannot write %s: %w (%w)", name, err, ErrMachine)
}
