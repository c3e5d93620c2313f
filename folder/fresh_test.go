package folder

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"unspool/design"
)

// fresh opens an empty folder that has a neighbour nobody may touch.
func fresh(t testing.TB) (*Fresh, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "quay passes")
	if err := errors.Join(os.Mkdir(dir, 0o777), os.WriteFile(filepath.Join(filepath.Dir(dir), "secret.csv"), []byte("kept\n"), 0o600)); err != nil {
		t.Fatal(err)
	}
	f, err := OpenFresh(dir)
	if err != nil || f == nil {
		t.Fatal(f, err)
	}
	t.Cleanup(func() { f.Close() })
	return f, dir
}

func portrait(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// claims is a PNG of a few bytes whose head claims w by h pixels (PNG 11.2.2).
func claims(t testing.TB, w, h uint32) []byte {
	t.Helper()
	data := portrait(t, 1, 1)
	for i, v := range []uint32{w, h} {
		for k := range 4 {
			data[16+4*i+k] = byte(v >> (24 - 8*k))
		}
	}
	sum := crc32.ChecksumIEEE(data[12:29])
	for k := range 4 {
		data[29+k] = byte(sum >> (24 - 8*k))
	}
	return data
}

// tree lists all files below a folder with their content.
func tree(t testing.TB, dir string) (all []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		if err == nil && !d.IsDir() {
			data, _ := os.ReadFile(path)
			name += fmt.Sprintf(" %x", crc32.ChecksumIEEE(data))
		}
		all = append(all, name)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestOpenFresh(t *testing.T) {
	dir := t.TempDir()
	if f, err := OpenFresh(dir); f == nil || err != nil {
		t.Error(f, err)
	} else {
		f.Close()
	}
	file := filepath.Join(dir, "roster.csv")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("nowhere", filepath.Join(dir, Name)); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{dir, file, filepath.Join(dir, "none")} { // a card file that leads nowhere is one all the same
		if f, err := OpenFresh(path); f != nil || err != nil {
			t.Errorf("%s: %v %v", path, f, err)
		}
	}
}

// Files that must not be taken: none leaves anything behind, in the folder or
// outside.
func TestTakeRefuses(t *testing.T) {
	f, dir := fresh(t)
	light := string(portrait(t, 3, 4))
	for name, text := range map[string]string{"crew.csv": "number\n1\n", "a.png": light} {
		if _, err := f.Take(name, strings.NewReader(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.Symlink("../secret.csv", filepath.Join(dir, "out.csv")), os.Mkdir(filepath.Join(dir, "photos", "folder.png"), 0o777)); err != nil {
		t.Fatal(err)
	}
	before := tree(t, filepath.Dir(dir))
	for _, c := range []struct {
		name string
		data string
		why  UnfitKind
	}{
		{"", "x", UnfitName}, {".", "x", UnfitName}, {"..", "x", UnfitName}, {"../crew2.csv", "x", UnfitName}, {"/tmp/x.csv", "x", UnfitName}, {`..\x.csv`, "x", UnfitName}, {`C:\x.csv`, "x", UnfitName},
		{"photos/b.png", light, UnfitName}, {"b\x00.png", light, UnfitName}, {"b\n.png", light, UnfitName}, {"b\u202egnp.png", light, UnfitName}, {"b\xff.png", light, UnfitName}, {".hidden.png", light, UnfitName}, {" b.png", light, UnfitName},
		{strings.Repeat("b", 200) + ".png", light, UnfitName},
		{"programme.yaml", "unspool: 1\n", UnfitSort}, {"run.sh", "x", UnfitSort}, {"page.html", "x", UnfitSort}, {"mark.svg", "<svg/>", UnfitSort}, {"csv", "x", UnfitSort},
		{"b.png", "", UnfitPhoto}, {"b.png", "GIF89a", UnfitPhoto}, {"b.jpg", "number\n1\n", UnfitPhoto}, {"b.png", light[:20], UnfitPhoto},
		{"b.png", string(claims(t, 60_000, 60_000)), UnfitPhoto}, {"b.png", string(claims(t, 9_000, 9_000)), UnfitPhoto}, {"b.png", string(claims(t, 1<<31-1, 1)), UnfitPhoto},
		{"crew.csv", "number\n2\n", UnfitTaken}, {"a.png", string(portrait(t, 4, 3)), UnfitTaken}, {"out.csv", "kept\n", UnfitTaken}, {"folder.png", light, UnfitTaken},
	} {
		kept, err := f.Take(c.name, strings.NewReader(c.data))
		var u Unfit
		if kept != "" || !errors.As(err, &u) || u.Why != c.why || u.What == "" {
			t.Errorf("%q: %q, %v; want %s", c.name, kept, err, c.why)
		}
		if now := tree(t, filepath.Dir(dir)); !slices.Equal(now, before) {
			t.Fatalf("%q changed the disk:\n%q\n%q", c.name, before, now)
		}
	}
	for name, from := range map[string]io.Reader{
		"large.png": io.MultiReader(strings.NewReader(light), io.LimitReader(zeros{}, MaxPhotoFile)),
		"cut.png":   io.MultiReader(strings.NewReader(light), iotest.ErrReader(errors.New("reset by peer"))),
	} {
		_, err := f.Take(name, from)
		var u Unfit
		if !errors.As(err, &u) || string(u.Why) != strings.TrimSuffix(name, ".png") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if now := tree(t, filepath.Dir(dir)); !slices.Equal(now, before) {
		t.Fatalf("the disk is changed:\n%q\n%q", before, now)
	}
	f.files = maxTaken
	if _, err := f.Take("c.png", strings.NewReader(light)); !errors.As(err, new(Unfit)) {
		t.Errorf("a full folder: %v", err)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// A folder of photos that leads elsewhere is not followed.
func TestTakeStaysInTheFolder(t *testing.T) {
	f, dir := fresh(t)
	if err := os.Symlink("..", filepath.Join(dir, "photos")); err != nil {
		t.Fatal(err)
	}
	before := tree(t, filepath.Dir(dir))
	if _, err := f.Take("a.png", bytes.NewReader(portrait(t, 3, 4))); err == nil || !strings.Contains(err.Error(), "photos leads out of the folder") {
		t.Error(err)
	}
	if now := tree(t, filepath.Dir(dir)); !slices.Equal(now, before) {
		t.Fatalf("the disk is changed:\n%q\n%q", before, now)
	}
}

// What is taken lies there once, whole, under its composed name; the same again
// is no fault. Of many at a time with one name one is kept.
func TestTake(t *testing.T) {
	f, dir := fresh(t)
	light := portrait(t, 3, 4)
	for _, c := range []struct {
		name, kept string
		data       []byte
	}{
		{"crew list.csv", "crew list.csv", []byte("number\n1\n")}, {"Ida.PNG", "photos/Ida.PNG", light}, {"Ida.PNG", "photos/Ida.PNG", light},
		{"Jo\u0308rn.png", "photos/J\u00f6rn.png", light}, {"a..b.jpg", "photos/a..b.jpg", light}, {"\u0645\u06cc\u200c\u0645.png", "photos/\u0645\u06cc\u200c\u0645.png", light},
	} {
		if kept, err := f.Take(c.name, bytes.NewReader(c.data)); kept != c.kept || err != nil {
			t.Errorf("%q: %q %v", c.name, kept, err)
		}
		if data, err := os.ReadFile(filepath.Join(dir, c.kept)); !bytes.Equal(data, c.data) || err != nil {
			t.Errorf("%q: %v", c.name, err)
		}
	}
	var all sync.WaitGroup
	kept := make([]bool, 12)
	for i := range kept {
		all.Go(func() {
			_, err := f.Take("race.png", bytes.NewReader(portrait(t, 3, 4+i)))
			kept[i] = err == nil
		})
	}
	all.Wait()
	if i := slices.Index(kept, true); i < 0 || slices.Contains(kept[i+1:], true) {
		t.Errorf("kept of twelve: %v", kept)
	} else if data, err := os.ReadFile(filepath.Join(dir, "photos", "race.png")); err != nil || !bytes.Equal(data, portrait(t, 3, 4+i)) {
		t.Errorf("another file is there than the one that was said to be kept: %v", err)
	}
	want := Listing{Rosters: []string{"crew list.csv"}, Photos: []string{"photos/Ida.PNG", "photos/J\u00f6rn.png", "photos/a..b.jpg", "photos/race.png", "photos/\u0645\u06cc\u200c\u0645.png"}}
	if l := f.List(); !slices.Equal(l.Rosters, want.Rosters) || !slices.Equal(l.Photos, want.Photos) {
		t.Errorf("%q", l)
	}
	for _, name := range tree(t, dir) {
		if strings.Contains(name, ".taking") {
			t.Errorf("%s is left over", name)
		}
	}
}

// A card file is written once and never over another.
func TestBegin(t *testing.T) {
	f, dir := fresh(t)
	if _, err := f.Take("crew.csv", strings.NewReader("number,name\n1,Ida Sund\n")); err != nil {
		t.Fatal(err)
	}
	src := "unspool: 1\nname: Quay\nribbon: {panels: YMCKO}\nblack: objects\nfaces:\n  front:\n    - {text: \"{name}\", box: [4, 4, 60, 8], size: 4}\nroster: {file: crew.csv, key: number}\n"
	if _, err := f.Try([]byte(strings.Replace(src, "crew.csv", "../secret.csv", 1))); err == nil {
		t.Error("a roster outside is read")
	}
	begun, err := f.Try([]byte(src))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(filepath.Join(dir, Name)); err == nil {
		t.Error("trying has written the card file")
	}
	if err := f.Begin(begun); err != nil {
		t.Fatal(err)
	}
	if again := f.Begin(begun); !errors.Is(again, ErrBegun) {
		t.Errorf("a second card file: %v", again)
	}
	opened := open(t, dir)
	if string(opened.Source) != src || len(opened.Rows()) != 1 || len(begun.Rows()) != 1 {
		t.Errorf("%q, %d rows", opened.Source, len(opened.Rows()))
	}
}

// A roster that was changed on disk is read again.
func TestRosterIsReadAnew(t *testing.T) {
	f, dir := fresh(t)
	for _, text := range []string{"number\n1\n", "number\n1\n2\n"} {
		if err := os.WriteFile(filepath.Join(dir, "crew.csv"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			r, err := f.Roster(design.Roster{File: "crew.csv"})
			if err != nil || len(r.Rows) != strings.Count(text, "\n")-1 {
				t.Errorf("%q: %v", text, err)
			}
		}
	}
	if _, err := f.Roster(design.Roster{File: "none.csv"}); err == nil || !strings.HasPrefix(err.Error(), "none.csv is not in") {
		t.Error(err)
	}
}

// Whatever a file is called, it lies in the folder or nowhere.
func FuzzTakeNames(f *testing.F) {
	for _, name := range []string{"a.png", "../a.csv", "/a.csv", "a\x00.csv", ".a.csv", "photos/a.csv", "a.csv/", "con.csv", "A.CSV", "a\u0308.csv", "..csv", strings.Repeat("é", 120) + ".csv"} {
		f.Add(name)
	}
	to, dir := fresh(f)
	up := filepath.Dir(dir)
	f.Fuzz(func(t *testing.T, name string) {
		kept, err := to.Take(name, strings.NewReader("number\n1\n"))
		if err == nil {
			if data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(kept))); err != nil || string(data) != "number\n1\n" {
				t.Errorf("%q was said to be kept as %q: %v", name, kept, err)
			}
			os.Remove(filepath.Join(dir, filepath.FromSlash(kept)))
		}
		for _, where := range []string{up, dir} {
			entries, err := os.ReadDir(where)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range entries {
				if n := e.Name(); n != "secret.csv" && n != "quay passes" && n != "photos" {
					t.Errorf("%q left %q in %s", name, n, where)
				}
			}
		}
	})
}

// A roster or a photo in another form is told in which form it would be taken.
func TestTakeOtherForms(t *testing.T) {
	f, _ := fresh(t)
	for name, want := range map[string]string{
		"crew.xls": "save it as XLSX or CSV", "crew.ODS": "save it as XLSX or CSV",
		"a.HEIC": "save it as JPEG or PNG", "a.gif": "save it as JPEG or PNG", "a.bmp": "save it as JPEG or PNG",
		"notes.pdf": "leave it out",
	} {
		var u Unfit
		if _, err := f.Take(name, strings.NewReader("x")); !errors.As(err, &u) || u.Why != UnfitSort || !strings.HasSuffix(u.What, want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
