package scan

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"unspool/code"
	"unspool/symbol"
)

var (
	update = flag.Bool("update", false, "write testdata/corpus.csv anew")
	keep   = flag.String("keep", "", "folder to leave the pictures of the corpus in")
)

// contents are what the symbols of the corpus carry, two texts of each kind.
var contents = map[string][2]string{
	"code39": {"S004217", "IDA-42"}, "code128": {"Sundhaven 42", "000042170"}, "itf": {"00123456", "4203117760"}, "codabar": {"A40156B", "C8812097D"},
	"code93": {"S004217", "Deck 7"}, "gs1-128": {"(10)LOT42", "(21)00421"}, "isbt128": {"=G12349865432100", "=W00002512345600"},
	"ean13": {"200042170031", "978000042170"}, "ean8": {"2000421", "5012345"}, "upca": {"04210000526", "20004217003"}, "upce": {"0123456", "0425261"},
	"qr": {"https://sundhaven.example/c/000042", "00421700"}, "datamatrix": {"Sundhaven 000042 Ida Example", "0042170031"},
	"aztec": {"Sundhaven 000042 Ida Example", "00421700"}, "pdf417": {"Sundhaven 000042 Ida Example", "0042170031"},
}

// damage is what becomes of a symbol on its way to a picture. The numbers are
// own judgement: from what any reader takes to what few do.
type damage struct {
	name string
	x    float64 // samples an X
	turn [2]int  // degrees, of each text
	// ops work on reflectance, after the symbol was drawn large, brought to size and
	// turned; seen on the picture's values.
	ops, seen string
	jpeg      int // quality; 0 saves without loss
}

var damages = []damage{
	{"clean", 3, [2]int{0, 180}, "", "", 0},
	{"small", 2, [2]int{0, 90}, "", "", 0},
	{"turned", 3, [2]int{17, 141}, "", "", 0},
	{"small turned", 2.4, [2]int{28, -63}, "", "", 0},
	{"blurred", 3.5, [2]int{5, 95}, "-blur 0x2", "", 0},
	{"noisy", 3, [2]int{-8, 82}, "", "-attenuate 1.2 +noise Gaussian", 0},
	{"perspective", 3.5, [2]int{10, -20}, "-distort Perspective 0,0,PX,QY,W,0,W,0,W,H,WA,HB,0,H,0,H", "", 0},
	{"uneven light", 3, [2]int{12, 75}, "( -size WxH gradient:white-gray15 ) -compose Multiply -composite", "", 0},
	{"jpeg 40", 3, [2]int{-15, 165}, "", "", 40},
	{"small jpeg 80", 2.3, [2]int{3, 93}, "", "", 80},
	{"pale", 3, [2]int{22, -68}, "+level 40%,70%", "", 0},
	{"grown", 3, [2]int{-4, 86}, "", "", 0},
	{"voids", 3.5, [2]int{9, -81}, "", "", 0},
	{"photo", 3.5, [2]int{-12, 70}, "-distort Perspective 0,0,PX,QY,W,0,WA,0,W,H,W,HB,0,H,0,H -blur 0x1 ( -size WxH gradient:white-gray40 ) -compose Multiply -composite", "-attenuate 0.4 +noise Gaussian", 60},
}

// large is how many samples an X is drawn by before it is brought to size.
const large = 6

// drawing is one picture of the corpus.
type drawing struct {
	kind, want string
	damage     damage
	turn       int
	base       string // its file, without ending
}

// corpusOf draws a kind under every damage into a folder.
func corpusOf(k code.Kind, dir string) (all []drawing, err error) {
	var first, second []string // arguments
	for i, text := range contents[k.Name] {
		grid, want, err := large1(k, text)
		if err != nil {
			return nil, err
		}
		name := filepath.Join(dir, fmt.Sprintf("%s-%d.pgm", k.Name, i))
		if err := os.WriteFile(name, grid, 0o600); err != nil {
			return nil, err
		}
		for n, d := range damages {
			if (n+len(k.Name))%2 != i { // each damage meets one of the two, in one of its turns
				continue
			}
			one := drawing{k.Name, want, d, d.turn[i], filepath.Join(dir, strings.ReplaceAll(d.name, " ", "-")+"-"+k.Name+fmt.Sprint("-", i))}
			all = append(all, one)
			first = append(first, one.make(name, grid)...)
			if d.jpeg > 0 {
				second = append(second, "(", one.base+".jpg", "-depth", "8", "-write", one.base+".pgm", "+delete", ")")
			}
		}
	}
	for _, args := range [][]string{first, second} {
		args = append(args, "-size", "1x1", "xc:white", "null:")
		cmd := exec.Command("convert", args...)
		cmd.Env = append(os.Environ(), "MAGICK_THREAD_LIMIT=1") // threads would share out its noise by chance
		if out, err := cmd.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("convert: %v: %s", err, out)
		}
	}
	return all, nil
}

// large1 draws a symbol large, on white: a portable gray map.
func large1(k code.Kind, text string) (pgm []byte, want string, err error) {
	var g symbol.Grid
	quiet := k.QuietX + 2
	if k.Family.Linear() {
		l, err := k.Encode(text, code.Options{Check: k.Always})
		if err != nil {
			return nil, "", err
		}
		widths, err := l.Widths(symbol.Size{X: 2, Wide: 5, Gap: 2})
		if err != nil {
			return nil, "", err
		}
		g, want = barsOf(widths), l.Text
	} else {
		m, err := k.EncodeMatrix(text, code.Options{})
		if err != nil {
			return nil, "", err
		}
		g, want = rows(m.Grid, k.RowX), m.Text
	}
	x := large
	if k.Family.Linear() {
		x, quiet = large/2, 2*quiet
	}
	w, h := (g.W+2*quiet)*x, (g.H+2*quiet)*x
	out := fmt.Appendf(nil, "P5\n%d %d\n255\n", w, h)
	for y := range h {
		for x0 := range w {
			u, v := x0/x-quiet, y/x-quiet
			if u >= 0 && v >= 0 && u < g.W && v < g.H && g.At(u, v) {
				out = append(out, 0)
			} else {
				out = append(out, 255)
			}
		}
	}
	return out, want, nil
}

// barsOf are bars as a grid of half X, twenty-six X high.
func barsOf(widths []int) symbol.Grid {
	n := 0
	for _, w := range widths {
		n += w
	}
	g := symbol.NewGrid(n, 52)
	at := 0
	for i, w := range widths {
		for x := at; x < at+w; x++ {
			for y := range g.H {
				g.Set(x, y, i%2 == 0)
			}
		}
		at += w
	}
	return g
}

// make are the arguments that make a picture of a symbol drawn large.
func (d drawing) make(file string, pgm []byte) []string {
	var w, h int
	fmt.Sscanf(string(pgm), "P5\n%d %d", &w, &h)
	args := []string{"(", file, "-virtual-pixel", "white", "-filter", "Triangle", "-background", "white", "-seed", "7"}
	switch d.damage.name {
	case "grown": // by 0.33 X
		args = append(args, "-morphology", "Erode", "Square:1")
	case "voids": // light specks of a fifth of an X to half of one, three in a hundred of the area
		args = append(args, "(", "-size", fmt.Sprintf("%dx%d", w, h), "xc:gray50", "-attenuate", "1", "+noise", "Random", "-blur", "0x2", "-auto-level", "-threshold", "72%", ")", "-compose", "Lighten", "-composite")
	}
	scale := d.damage.x / large
	args = append(args, "+distort", "SRT", fmt.Sprintf("%g,%d", scale, d.turn), "+repage")
	side := turnedSide(w, h, scale, d.turn)
	args = append(args, "-compose", "Over", "-gravity", "center", "-extent", fmt.Sprintf("%dx%d", side[0], side[1]), "+repage", "+level", "4%,80%")
	put := strings.NewReplacer("PX", fmt.Sprint(side[0]/10), "QY", fmt.Sprint(side[1]/14), "WA", fmt.Sprint(side[0]*19/20), "HB", fmt.Sprint(side[1]*19/20), "W", fmt.Sprint(side[0]), "H", fmt.Sprint(side[1]))
	if d.damage.ops != "" {
		args = append(args, "-virtual-pixel", "edge")
		for _, op := range strings.Fields(d.damage.ops) {
			if !strings.HasPrefix(op, "-") {
				op = put.Replace(op)
			}
			args = append(args, op)
		}
	}
	args = append(args, "-gamma", "2.2") // values of a picture
	args = append(args, strings.Fields(d.damage.seen)...)
	to := d.base + ".pgm"
	if d.damage.jpeg > 0 {
		args, to = append(args, "-quality", fmt.Sprint(d.damage.jpeg)), d.base+".jpg"
	}
	return append(args, "-depth", "8", "-write", to, "+delete", ")")
}

// turnedSide is the size of a picture that a turned symbol fits on, with a rim.
func turnedSide(w, h int, scale float64, turn int) [2]int {
	b := turnedBounds(float64(w)*scale, float64(h)*scale, float64(turn))
	return [2]int{int(b[0]) + 24, int(b[1]) + 24}
}

// seen reads a portable gray map as the grade command does.
func seen(t *testing.T, file string) Shot {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w, h int
	if _, err := fmt.Sscanf(string(data[:20]), "P5\n%d %d\n255", &w, &h); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	grey := data[len(data)-w*h:]
	rgb := make([]uint8, 0, 3*w*h)
	for _, v := range grey {
		rgb = append(rgb, v, v, v)
	}
	s, err := NewShot(rgb, w, h, About{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// found are kinds and texts of what is found.
func (all All) texts() (kinds, texts []string) {
	for _, l := range all.Linear {
		kinds, texts = append(kinds, l.Kind.Name), append(texts, l.Reading.Text)
	}
	for _, m := range all.Matrix {
		kinds, texts = append(kinds, m.Kind), append(texts, m.Reading.Text)
	}
	for _, s := range all.Stacked {
		kinds, texts = append(kinds, "pdf417"), append(texts, s.Reading.Text)
	}
	return kinds, texts
}

type others struct{ Zbar, Zxing []string }

// readByOthers has one process read all pictures.
func readByOthers(t *testing.T, all []drawing) (got []others) {
	t.Helper()
	var names strings.Builder
	for _, d := range all {
		fmt.Fprintln(&names, d.base+".pgm")
	}
	cmd := exec.Command("/usr/bin/python3", "testdata/read.py")
	cmd.Stdin = strings.NewReader(names.String())
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var o others
		if err := d.Decode(&o); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		got = append(got, o)
	}
	if len(got) != len(all) {
		t.Fatalf("%d answers for %d pictures", len(got), len(all))
	}
	return got
}

// asOthers says whether another reader's text is the one drawn: zxing-cpp 1.4
// leaves Codabar's guards out, zbar reads UPC-A and UPC-E as EAN-13.
func (d drawing) asOthers(texts []string) bool {
	return slices.ContainsFunc(texts, func(s string) bool {
		switch d.kind {
		case "codabar":
			return s == d.want || s == d.want[1:len(d.want)-1]
		case "upca":
			return s == d.want || s == "0"+d.want
		case "upce":
			return s == d.want || len(s) == 13 && strings.HasPrefix(s, "00") && s[12] == d.want[7]
		}
		return s == d.want
	})
}

// Symbols of every kind, drawn by the encoders here and damaged as prints and
// pictures are, read here and by zxing-cpp and zbar (Debian's python3-zxing-cpp
// and python3-zbar). The counts are kept in testdata/corpus.csv. Nothing may be
// read that was not drawn.
func TestCorpus(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if *keep != "" {
		dir = *keep
	}
	kinds := code.All()
	parts, ours := make([][]drawing, len(kinds)), make([][]bool, len(kinds))
	var wait sync.WaitGroup
	turn := make(chan struct{}, 2) // at a time, for each waits on convert for half of it
	for i, k := range kinds {
		wait.Go(func() {
			turn <- struct{}{}
			defer func() { <-turn }()
			var err error
			if parts[i], err = corpusOf(k, dir); err != nil {
				t.Error(err)
				return
			}
			for _, d := range parts[i] {
				ours[i] = append(ours[i], d.read(t))
			}
		})
	}
	wait.Wait()
	all := slices.Concat(parts...)
	theirs := readByOthers(t, all)
	got := tally(t, all, slices.Concat(ours...), theirs)
	const file = "testdata/corpus.csv"
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the counts are others than those kept; with -update they are written anew:\n%s", got)
	}
}

// read says whether the symbol is read here, and complains of anything else.
func (d drawing) read(t *testing.T) (ok bool) {
	kinds, texts := Find(seen(t, d.base+".pgm").Raster, code.All()).texts()
	for i, text := range texts {
		if text != d.want || kinds[i] != d.kind {
			t.Errorf("%s: %s %q is not there; it carries %q", filepath.Base(d.base), kinds[i], text, d.want)
		}
		ok = text == d.want && kinds[i] == d.kind
	}
	if len(texts) > 1 {
		t.Errorf("%s: found %d symbols", filepath.Base(d.base), len(texts))
	}
	return ok
}

// tally counts who read what.
func tally(t *testing.T, all []drawing, ours []bool, theirs []others) []byte {
	t.Helper()
	type count struct{ drawn, ours, zxing, zbar int }
	counts := map[[2]string]*count{}
	var keys [][2]string
	var sum count
	for i, d := range all {
		key := [2]string{d.kind, d.damage.name}
		if counts[key] == nil {
			counts[key], keys = new(count), append(keys, key)
		}
		for _, c := range []*count{counts[key], &sum} {
			c.drawn++
			for _, r := range []struct {
				read bool
				to   *int
			}{{ours[i], &c.ours}, {d.asOthers(theirs[i].Zxing), &c.zxing}, {d.asOthers(theirs[i].Zbar), &c.zbar}} {
				if r.read {
					*r.to++
				}
			}
		}
		if z := d.asOthers(theirs[i].Zxing); testing.Verbose() && ours[i] != z {
			t.Logf("%s: read here %v, by zxing-cpp %v", filepath.Base(d.base), ours[i], z)
		}
	}
	out := []byte("kind,damage,drawn,unspool,zxing-cpp,zbar\n")
	for _, k := range keys {
		c := counts[k]
		out = fmt.Appendf(out, "%s,%s,%d,%d,%d,%d\n", k[0], k[1], c.drawn, c.ours, c.zxing, c.zbar)
	}
	if sum.ours < sum.zxing {
		t.Errorf("of %d symbols %d are read here, %d by zxing-cpp", sum.drawn, sum.ours, sum.zxing)
	}
	return fmt.Appendf(out, "all,all,%d,%d,%d,%d\n", sum.drawn, sum.ours, sum.zxing, sum.zbar)
}
