package folder

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// mark is the file that says a folder was written by Unspool and may be
// replaced by it.
const mark = ".unspool-proof"

// Output is a folder of results in the making. Nothing is at its final place
// until Commit, and then all of it.
type Output struct {
	final, part string
	made        []string // folders above it that were not there, the outermost first
	held        *os.File // the mark, locked while the process lives
	done        bool
}

// Create begins the output folder at path. A folder that is there already is
// replaced by Commit if Unspool wrote it, and refused if it holds anything else.
// What a run that was killed has left half-written beside it is removed.
func Create(path string) (*Output, error) {
	path = filepath.Clean(path)
	if err := mayReplace(path); err != nil {
		return nil, err
	}
	o := &Output{final: path}
	if err := o.begin(); err != nil {
		o.Abandon()
		return nil, told(path, err)
	}
	return o, nil
}

// begin makes the folder that is written to, with its mark.
func (o *Output) begin() (err error) {
	above := filepath.Dir(o.final)
	for at := above; !there(at); at = filepath.Dir(at) {
		o.made = append([]string{at}, o.made...)
	}
	if err := os.MkdirAll(above, 0o777); err != nil {
		return err
	}
	beside := filepath.Join(above, "."+filepath.Base(o.final)+".part-")
	sweep(beside)
	if o.part, err = os.MkdirTemp(above, filepath.Base(beside)); err != nil {
		return err
	}
	if err := os.Chmod(o.part, 0o755); err != nil {
		return err
	}
	if o.held, err = os.OpenFile(filepath.Join(o.part, mark), os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o644); err != nil {
		return err
	}
	lock(o.held)
	_, err = o.held.WriteString("Written by unspool proof, which will replace this folder when run again.\n")
	return errors.Join(err, o.held.Sync())
}

func there(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// sweep removes folders half-written by runs that were killed. Those of runs that
// still write hold a lock.
func sweep(beside string) {
	left, _ := filepath.Glob(escaped(beside) + "*")
	for _, part := range left {
		f, err := os.OpenFile(filepath.Join(part, mark), os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if lock(f) {
			os.RemoveAll(part)
		}
		f.Close()
	}
}

// escaped is a path that stands for itself in a pattern.
func escaped(path string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(path)
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
	if here, err := os.Stat("."); err == nil && os.SameFile(here, info) {
		return fmt.Errorf("%s is the folder you are in, and results come as a whole folder; name one within it with -o", path)
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
	return cmp.Or(err, w.Close())
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
	return told(s.final, cmp.Or(s.Sync(), s.File.Close()))
}

// Commit puts the folder in its place.
func (o *Output) Commit() error {
	old := o.part // where the results of an earlier run are after an exchange
	err := exchange(o.part, o.final)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, errors.ErrUnsupported) {
		old = o.part + "-old"
		err = replace(o.part, o.final, old)
	}
	if err != nil {
		return told(o.final, err)
	}
	o.done = true
	o.held.Close()
	return told(old, os.RemoveAll(old))
}

// replace renames in two steps where the system cannot exchange two folders.
func replace(part, final, old string) error {
	err := os.Rename(final, old)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	replaced := err == nil
	if err := os.Rename(part, final); err != nil {
		if replaced {
			err = errors.Join(err, os.Rename(old, final))
		}
		return err
	}
	return nil
}

// Abandon removes what was written, unless it was committed.
func (o *Output) Abandon() {
	if o.done {
		return
	}
	if o.held != nil {
		o.held.Close()
	}
	if o.part != "" {
		os.RemoveAll(o.part)
	}
	for _, dir := range slices.Backward(o.made) {
		os.Remove(dir) // stays if something else was put into it
	}
}
