package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// writeFile puts data in place as a whole or not at all: it is written beside
// the file under another name, brought to disk and renamed.
func writeFile(name string, data []byte) (err error) {
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
		return machineError{err}
	}
	if err := f.Sync(); err != nil {
		return machineError{err}
	}
	if err := f.Chmod(0o644); err != nil {
		return machineError{err}
	}
	if err := f.Close(); err != nil {
		return machineError{err}
	}
	return told(name, os.Rename(f.Name(), name))
}

// told parts what the user named wrongly, a folder that is not there or not
// theirs, from a machine that failed. It speaks of the file that was asked for
// rather than of the one beside it.
func told(name string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	wrong := errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) || errors.Is(err, fs.ErrExist)
	switch {
	case err == nil:
		return nil
	case errors.As(err, &path):
		err = fmt.Errorf("cannot write %s: %w", name, path.Err)
	case errors.As(err, &link):
		err = fmt.Errorf("cannot write %s: %w", name, link.Err)
	}
	if wrong {
		return err
	}
	return machineError{err}
}
