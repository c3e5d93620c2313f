package folder

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// mark is the file that says a folder was written by Unspool and may be
// replaced by it.
const mark = ".unspool-proof"

// Output is a folder of results in the making. Nothing is at its final place
// until Commit, and then all of it.
type Output struct {
	final, part string
	done        bool
}

// Create begins the output folder at path. A folder that is there already is
// replaced by Commit if Unspool wrote it, and refused if it holds anything else.
func Create(path string) (*Output, error) {
	path = filepath.Clean(path)
	if err := mayReplace(path); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return nil, told(path, err)
	}
	part, err := os.MkdirTemp(filepath.Dir(path), "."+filepath.Base(path)+".part-")
	if err != nil {
		return nil, told(path, err)
	}
	o := &Output{final: path, part: part}
	if err := os.Chmod(part, 0o755); err != nil {
		o.Abandon()
		return nil, told(path, err)
	}
	if err := o.Write(mark, []byte("Written by unspool proof, which will replace this folder when run again.\n")); err != nil {
		o.Abandon()
		return nil, err
	}
	return o, nil
}

func mayReplace(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return told(path, err)
	case !info.IsDir():
		return fmt.Errorf("%s is a file; name a folder for the results with -o", path)
	}
	if _, err := os.Stat(filepath.Join(path, mark)); err == nil {
		return nil
	}
	held, err := os.ReadDir(path)
	if err != nil {
		return told(path, err)
	}
	if len(held) > 0 {
		return fmt.Errorf("%s holds something that Unspool did not write (%s); name another folder with -o", path, held[0].Name())
	}
	return nil
}

// Write adds a whole file. name is relative and may lie in a folder of its own.
func (o *Output) Write(name string, data []byte) error {
	w, err := o.Open(name)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return errors.Join(err, w.Close())
}

// Open begins a file that is written bit by bit.
func (o *Output) Open(name string) (io.WriteCloser, error) {
	at, final := filepath.Join(o.part, filepath.FromSlash(name)), filepath.Join(o.final, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return nil, told(final, err)
	}
	f, err := os.OpenFile(at, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return nil, told(final, err)
	}
	return &synced{File: f, final: final}, nil
}

// synced is a file that is on the disk when Close returns. It may be closed
// again.
type synced struct {
	*os.File
	final  string
	closed bool
}

func (s *synced) Write(p []byte) (int, error) {
	n, err := s.File.Write(p)
	return n, told(s.final, err)
}

func (s *synced) Close() error {
	if s.closed {
		return nil
	}
	s.closed = true
	return told(s.final, errors.Join(s.Sync(), s.File.Close()))
}

// Commit puts the folder in its place.
func (o *Output) Commit() error {
	old := o.part + "-old"
	err := os.Rename(o.final, old)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return told(o.final, err)
	}
	replaced := err == nil
	if err := os.Rename(o.part, o.final); err != nil {
		if replaced {
			err = errors.Join(err, os.Rename(old, o.final))
		}
		return told(o.final, err)
	}
	o.done = true
	if replaced {
		return told(old, os.RemoveAll(old))
	}
	return nil
}

// Abandon removes what was written, unless it was committed.
func (o *Output) Abandon() {
	if !o.done {
		os.RemoveAll(o.part)
	}
}
