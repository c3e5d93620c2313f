package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// programme writes a programme of one card without a code.
func programme(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		Name: `unspool: 1
name: Gate cards
ribbon: {panels: YMCKO}
black: objects
roster: {file: crew.csv, key: number}
faces:
  front:
    - {photo: "{photo}", box: [4, 5, 24, 31]}
`,
		"crew.csv":     "number,photo\n000042,a.jpg\n",
		"photos/a.jpg": "light",
	} {
		at := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(at), 0o755), os.WriteFile(at, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func open(t *testing.T, dir string) *Folder {
	t.Helper()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func TestFilesThatAreNotRead(t *testing.T) {
	dir := programme(t)
	photos := filepath.Join(dir, "photos")
	socket, err := syscall.Socket(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer syscall.Close(socket)
	t.Chdir(photos) // a socket's name is short
	if err := errors.Join(
		os.WriteFile("huge.jpg", nil, 0o644), os.Truncate("huge.jpg", maxPicture+1),
		os.Mkdir("folder.jpg", 0o755),
		syscall.Mkfifo("pipe.jpg", 0o644),
		syscall.Bind(socket, &syscall.SockaddrUnix{Name: "socket.jpg"}),
		os.Symlink("/dev/zero", "out.jpg"),
		os.Symlink("round.jpg", "round.jpg"),
		os.Symlink("a.jpg", "in.jpg"),
	); err != nil {
		t.Fatal(err)
	}
	f := open(t, dir)
	for _, c := range []struct{ name, want string }{
		{"photos/none.jpg", "is not in the programme folder; put it there, or correct the name"},
		{"photos/a.jpg/b.jpg", "is not in the programme folder; put it there, or correct the name"},
		{"photos/huge.jpg", "has 64 MB, and at most 64 MB are read; save it smaller"},
		{"photos/folder.jpg", "is a folder; name a file"},
		{"photos/pipe.jpg", "is a pipe or a device; copy what it gives into a file"},
		{"photos/socket.jpg", "cannot be read (no such device or address); see to its permissions and its disk"},
		{"photos/out.jpg", "leads out of the programme folder; copy the file into it"},
		{"../secret.jpg", "leads out of the programme folder; copy the file into it"},
		{"/etc/passwd", "leads out of the programme folder; copy the file into it"},
		{"photos/round.jpg", "cannot be read (too many levels of symbolic links); see to its permissions and its disk"},
	} {
		data, err := f.Photo(c.name)
		if err == nil || data != nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
		if missing := strings.Contains(c.want, "not in"); errors.Is(err, fs.ErrNotExist) != missing {
			t.Errorf("%s: missing, or not: %v", c.name, err)
		}
	}
	if data, err := f.Photo("photos/in.jpg"); string(data) != "light" || err != nil {
		t.Errorf("a link within the folder: %q, %v", data, err)
	}
}

// Photos may go away while a run reads them: each is then missing.
func TestVanishedPhotos(t *testing.T) {
	dir := programme(t)
	f := open(t, dir)
	for _, gone := range []string{filepath.Join(dir, "photos"), dir} {
		if err := os.RemoveAll(gone); err != nil {
			t.Fatal(err)
		}
		if _, err := f.Photo("photos/a.jpg"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("without %s: %v", filepath.Base(gone), err)
		}
	}
}

// A programme that may be read and not written, as on a disc or a share, is
// proved: nothing is written to it but results, where they are not sent elsewhere.
func TestReadOnlyFolder(t *testing.T) {
	dir := programme(t)
	for _, at := range []string{"photos/a.jpg", "crew.csv", Name, "photos", "."} {
		if err := os.Chmod(filepath.Join(dir, at), map[bool]os.FileMode{true: 0o555, false: 0o444}[at == "photos" || at == "."]); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { os.Chmod(dir, 0o755); os.Chmod(filepath.Join(dir, "photos"), 0o755) })
	f := open(t, dir)
	if data, err := f.Photo("photos/a.jpg"); string(data) != "light" || err != nil {
		t.Errorf("%q, %v", data, err)
	}
	if rows := f.Rows(); len(rows) != 1 || rows[0].Key != "000042" {
		t.Errorf("%v", rows)
	}
}
