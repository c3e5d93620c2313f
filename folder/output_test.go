package folder

import (
	"os"
	"path/filepath"
	"strings"
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
