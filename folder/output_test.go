package folder

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func commit(t *testing.T, at, text string) {
	t.Helper()
	o, err := Create(at)
	if err != nil {
		t.Fatal(err)
	}
	defer o.Abandon()
	if err := o.Write("sub/a.txt", []byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := o.Commit(); err != nil {
		t.Fatal(err)
	}
}

func TestOutputIsThereWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "results")
	o, err := Create(at)
	if err != nil {
		t.Fatal(err)
	}
	if err := o.Write("a.txt", []byte("half")); err != nil {
		t.Fatal(err)
	}
	o.Abandon()
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("abandoned output leaves %v", left)
	}
	commit(t, at, "first")
	commit(t, at, "second") // its own results are replaced
	if got, _ := os.ReadFile(filepath.Join(at, "sub/a.txt")); string(got) != "second" {
		t.Errorf("results hold %q", got)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("a renewed output leaves %v", left)
	}
}

func TestOutputKeepsWhatItDidNotWrite(t *testing.T) {
	dir := t.TempDir()
	thesis := filepath.Join(dir, "thesis.txt")
	if err := os.WriteFile(thesis, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{dir, thesis} {
		if _, err := Create(at); err == nil || !strings.Contains(err.Error(), "-o") {
			t.Errorf("Create(%s): %v; want a refusal that says what to do", filepath.Base(at), err)
		}
	}
	if got, _ := os.ReadFile(thesis); string(got) != "mine" {
		t.Error("the file was touched")
	}
	empty := filepath.Join(dir, "empty")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	commit(t, empty, "into an empty folder")
}

func TestAbandonedOutputLeavesNoFolders(t *testing.T) {
	dir := t.TempDir()
	for _, keep := range []string{"", "a/mine.txt"} {
		o, err := Create(filepath.Join(dir, "a/b/c"))
		if err != nil {
			t.Fatal(err)
		}
		if keep != "" {
			if err := os.WriteFile(filepath.Join(dir, keep), nil, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		o.Abandon()
		_, err = os.Stat(filepath.Join(dir, "a"))
		if there := err == nil; there != (keep != "") {
			t.Errorf("with %q put into it, the folder above stays: %v", keep, there)
		}
	}
}

// What a killed run has left is swept away, what another one still writes is not.
func TestOutputSweepsWhatWasLeft(t *testing.T) {
	at := filepath.Join(t.TempDir(), "results [1]*")
	left := filepath.Join(filepath.Dir(at), ".results [1]*.part-1")
	foreign := filepath.Join(filepath.Dir(at), ".results [1]*.part-2")
	for _, dir := range []string{left, foreign} {
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(left, mark), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	writing, err := Create(at)
	if err != nil {
		t.Fatal(err)
	}
	commit(t, at, "another run's")
	if _, err := os.Stat(left); err == nil {
		t.Error("what was left stays")
	}
	if _, err := os.Stat(foreign); err != nil {
		t.Error("a folder without the mark is gone")
	}
	if err := writing.Write("a.txt", nil); err != nil {
		t.Errorf("the run that still writes was swept away: %v", err)
	}
	if err := writing.Commit(); err != nil {
		t.Errorf("the later of two runs: %v", err)
	}
}

// Where folders cannot be exchanged, renaming twice does.
func TestReplaceInTwoSteps(t *testing.T) {
	dir := t.TempDir()
	part, final, old := filepath.Join(dir, "part"), filepath.Join(dir, "final"), filepath.Join(dir, "old")
	for _, name := range []string{part, final} {
		if err := errors.Join(os.Mkdir(name, 0o755), os.WriteFile(filepath.Join(name, "a.txt"), []byte(name), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	if err := replace(part, final, old); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(filepath.Join(final, "a.txt")); string(got) != part {
		t.Errorf("final holds %q", got)
	}
	if got, _ := os.ReadFile(filepath.Join(old, "a.txt")); string(got) != final {
		t.Errorf("old holds %q", got)
	}
	if err := replace(part, final, old+"2"); err == nil {
		t.Error("a folder that is not there has replaced one")
	}
	if got, _ := os.ReadFile(filepath.Join(final, "a.txt")); string(got) != part {
		t.Errorf("after a failure final holds %q", got)
	}
}

func TestErrorsTellWhoseTheyAre(t *testing.T) {
	for _, c := range []struct {
		err     error
		machine bool
	}{
		{syscall.ENOSPC, true}, {syscall.EFBIG, true}, {syscall.EROFS, true}, {syscall.EACCES, true}, {syscall.EIO, true},
		{syscall.ENOENT, false}, {syscall.ENOTDIR, false}, {syscall.EISDIR, false}, {syscall.ENAMETOOLONG, false}, {syscall.EEXIST, false},
	} {
		err := told("cards.csv", &os.PathError{Op: "open", Path: ".cards.csv.1", Err: c.err})
		if errors.Is(err, ErrMachine) != c.machine || !strings.HasPrefix(err.Error(), "cannot write cards.csv: "+c.err.Error()+"; ") {
			t.Errorf("%v: %v", c.err, err)
		}
	}
	if told("cards.csv", nil) != nil {
		t.Error("no error is told as one")
	}
}

func TestWriteFileReplacesWhole(t *testing.T) {
	at := filepath.Join(t.TempDir(), "a.txt")
	for _, text := range []string{"one", "two"} {
		if err := WriteFile(at, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, _ := os.ReadFile(at); string(got) != text {
			t.Errorf("%q", got)
		}
	}
	if err := WriteFile(filepath.Join(t.TempDir(), "no", "a.txt"), nil); err == nil || !strings.Contains(err.Error(), "cannot write") {
		t.Errorf("no folder: %v", err)
	}
}
