package code_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unspool/code"
	"unspool/symbol"
	"unspool/symbol/symboltest"
	"unspool/unit"
)

// Two readers that know nothing of this project, zbar and zxing-cpp, read back
// what is drawn. Each has a domain outside which it refuses a sound symbol; in it
// every text must come back, and the numbers of texts in it are held fixed.

// drawn is one symbol of the read-back test.
type drawn struct {
	text    string
	o       code.Options
	along   unit.Pitch
	across  unit.Pitch
	turn    int
	size    symbol.Size
	l       symbol.Logical
	plain   string // its text with full ASCII pairs unread, as both readers give it
	picture *image.Paletted
}

// set is the texts of one symbology.
type set struct {
	name     string
	kind     string
	alphabet string
	options  []code.Options // taken in turn
	// shape makes a text of n characters of the pool, or says that there is none;
	// nil takes them as they are.
	shape func(pool string, n int, o code.Options) (string, bool)
	// zbar and zxing give the text that the reader is to find, and false outside
	// its domain.
	zbar, zxing func(plain string) (string, bool)
	// read is how many of the 500 texts each reader has in its domain.
	zbarReads, zxingReads int
}

func whole(s string) (string, bool) { return s, true }

// By default zbar refuses Interleaved 2 of 5 below 6 digits, since part of a
// symbol can look like a short one, and Codabar below 4 characters; read.py lifts
// both. zxing-cpp 1.4 keeps to 6 digits.
func sixDigits(s string) (string, bool) { return s, len(s) >= 6 }

// zxing-cpp 1.4 leaves out Codabar's start and stop, and refuses fewer than 2
// characters between them.
func withoutGuards(s string) (string, bool) { return s[1 : len(s)-1], len(s) >= 4 }

// zbar does not know UPC-E of number system 1.
func systemZero(s string) (string, bool) { return s, s[0] == '0' }

func sets() []set {
	ascii := make([]byte, 128)
	for i := range ascii {
		ascii[i] = byte(i)
	}
	digits, letters := "0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	return []set{
		{"Code 39", "code39", digits + letters + "-. $/+%",
			[]code.Options{{}, {Check: code.Mod43}}, nil, whole, whole, 500, 500},
		{"Code 39 full ASCII", "code39", string(ascii),
			[]code.Options{{FullASCII: true}, {FullASCII: true, Check: code.Mod43}}, nil, whole, whole, 500, 500},
		{"Code 128", "code128", string(ascii), []code.Options{{}}, nil, whole, whole, 500, 500},
		{"Code 128 digits", "code128", digits, []code.Options{{}}, nil, whole, whole, 500, 500},
		{"Interleaved 2 of 5", "itf", digits,
			[]code.Options{{}, {Check: code.Mod10}, {Check: code.Luhn}}, pairs, whole, sixDigits, 500, 420},
		{"Codabar", "codabar", digits + "-$:/.+",
			[]code.Options{{Start: "A", Stop: "B"}, {Start: "C", Stop: "D"}, {Check: code.Mod16, Start: "B", Stop: "A"}, {Start: "D", Stop: "C"}},
			nil, whole, withoutGuards, 500, 441},
		{"Code 93", "code93", string(ascii), []code.Options{{}}, nil, whole, whole, 500, 500},
		{"GS1-128", "gs1-128", digits + letters + strings.ToLower(letters) + "!%&*+,-./:;<=>?_", []code.Options{{}}, elements, whole, whole, 500, 500},
		{"ISBT 128", "isbt128", digits, []code.Options{{Check: code.Mod37}, {}}, donations, whole, whole, 500, 500},
		{"EAN-13", "ean13", digits, []code.Options{{}}, only(12), whole, whole, 500, 500},
		{"UPC-A", "upca", digits, []code.Options{{Check: code.Mod10}}, only(11), whole, whole, 500, 500},
		{"EAN-8", "ean8", digits, []code.Options{{}}, only(7), whole, whole, 500, 500},
		{"UPC-E", "upce", digits, []code.Options{{}}, short, systemZero, whole, 249, 500},
	}
}

func TestReadersReadWhatIsDrawn(t *testing.T) {
	var all []drawn
	sets := sets()
	const texts = 500
	for _, s := range sets {
		all = append(all, s.draw(t, texts)...)
	}
	found := readBack(t, sets, all, texts)
	for i, s := range sets {
		var zbarReads, zxingReads int
		for j, d := range all[i*texts : (i+1)*texts] {
			f := found[i*texts+j]
			if want, in := s.zbar(d.plain); in {
				zbarReads += s.compare(t, d, "zbar", f.Zbar, want)
			}
			if want, in := s.zxing(d.plain); in {
				zxingReads += s.compare(t, d, "zxing-cpp", f.Zxing, want)
			}
		}
		if zbarReads != s.zbarReads || zxingReads != s.zxingReads {
			t.Errorf("%s: zbar read %d texts and zxing-cpp %d, want %d and %d", s.name, zbarReads, zxingReads, s.zbarReads, s.zxingReads)
		}
	}
}

func (s set) compare(t *testing.T, d drawn, reader string, found []string, want string) int {
	if slices.Equal(found, []string{want}) {
		return 1
	}
	t.Errorf("%s: %s read %q, want %q: %+v %+v at %v x %v turned %d", s.name, reader, found, want, d.o, d.size, d.along, d.across, d.turn)
	return 0
}

// draw makes the texts of a set: every X of 2 to 5 dots with every legal N, three
// resolutions and two turns, and for each of these lengths from 1 to the longest
// that a card's long side of 85.60 mm has room for.
func (s set) draw(t *testing.T, texts int) []drawn {
	k, ok := code.ByName(s.kind)
	if !ok {
		t.Fatalf("no symbology %q", s.kind)
	}
	var settings []drawn
	for _, p := range [][2]unit.Pitch{{300, 300}, {300, 600}, {600, 600}} {
		for x := 2; x <= 5; x++ {
			for _, size := range code.Sizes(k, p[0], x) {
				for _, turn := range []int{0, 90} {
					settings = append(settings, drawn{along: p[0], across: p[1], turn: turn, size: size})
				}
			}
		}
	}
	chars := &shuffled{alphabet: s.alphabet}
	var out []drawn
	for i := range texts {
		d := settings[i%len(settings)]
		visit, visits := i/len(settings), (texts-1-i%len(settings))/len(settings)+1
		d.o = s.options[(i+visit)%len(s.options)]
		d.fill(t, k, s.shape, chars, float64(visit)/float64(visits-1))
		out = append(out, d)
	}
	if texts < 2*len(settings) || len(chars.used) != len(s.alphabet) {
		t.Errorf("%s: %d settings, %d of %d characters", s.name, len(settings), len(chars.used), len(s.alphabet))
	}
	return out
}

// fill gives a symbol its text, of a length that is the given share of the way
// from the shortest to the longest that fits, and draws it.
func (d *drawn) fill(t *testing.T, k code.Kind, shape func(string, int, code.Options) (string, bool), chars *shuffled, share float64) {
	t.Helper()
	var texts []string
	var symbols []symbol.Logical
	const longest = 200 // more than any card carries
	pool := chars.next(longest)
	quiet := code.Quiet(k, d.size.X)
	room := d.along.Floor(unit.MM(85.60)) - quiet[0] - quiet[1]
	for n := 1; n <= longest; n++ {
		text, ok := pool[:n], true
		if shape != nil {
			text, ok = shape(pool, n, d.o)
		}
		if !ok {
			continue
		}
		l, err := k.Encode(text, d.o)
		if err != nil {
			t.Fatal(err)
		}
		if l.Width(d.size) > room {
			break
		}
		texts, symbols = append(texts, text), append(symbols, l)
	}
	pick := int(share*float64(len(texts)-1) + .5)
	d.text, d.l, d.plain = texts[pick], symbols[pick], symbols[pick].Text
	chars.use(d.text)
	if d.o.FullASCII {
		d.plain = unread(t, k, d.l)
	}
	var err error
	d.picture, err = symbol.Raster(d.l, d.size, symbol.Drawing{
		Quiet: quiet, Height: d.across.Round(unit.MM(2)), Turn: d.turn,
	})
	if err != nil {
		t.Fatal(err)
	}
}

// unread is the text of a full ASCII symbol to a reader that is not set for it.
func unread(t *testing.T, k code.Kind, l symbol.Logical) string {
	dots, err := l.Widths(symbol.Size{X: 1, Wide: 3, Gap: 1})
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.Decode(symboltest.Floats(dots), code.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Text
}

// shuffled deals the characters of an alphabet in a mixed but fixed order.
type shuffled struct {
	alphabet string
	seed     uint64
	used     map[rune]bool
}

func (s *shuffled) next(n int) string {
	s.seed++
	text := ""
	for i := uint64(0); len(text) < n; i++ {
		text += symboltest.Texts(s.seed*1000+i, 1, 50, s.alphabet)[0]
	}
	return text[:n]
}

func (s *shuffled) use(text string) {
	if s.used == nil {
		s.used = map[rune]bool{}
	}
	for _, r := range text {
		if strings.ContainsRune(s.alphabet, r) {
			s.used[r] = true
		}
	}
}

// readings is what the two readers found in one picture.
type readings struct{ Zbar, Zxing []string }

// readBack has one process read all pictures.
func readBack(t *testing.T, sets []set, all []drawn, texts int) []readings {
	t.Helper()
	return answers[readings](t, exec.Command(python(t), "testdata/read.py"), len(all), func(in io.Writer) { send(in, sets, all, texts) })
}

// answers are the lines of JSON that a program gives to what it is fed, n of
// them. Should it stop early, it is their count that fails the test.
func answers[T any](t *testing.T, cmd *exec.Cmd, n int, feed func(io.Writer)) (all []T) {
	t.Helper()
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatalf("%s does not start; check.sh installs it: %v", cmd.Path, err)
	}
	go func() {
		w := bufio.NewWriter(in)
		feed(w)
		w.Flush()
		in.Close()
	}()
	for d := json.NewDecoder(out); ; {
		var one T
		if err := d.Decode(&one); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("%v\n%s", err, stderr.String())
		}
		all = append(all, one)
	}
	if err := cmd.Wait(); err != nil || len(all) != n {
		t.Fatalf("%s answered %d times for %d pictures: %v\n%s", cmd.Path, len(all), n, err, stderr.String())
	}
	return all
}

// send writes the pictures.
func send(w io.Writer, sets []set, all []drawn, texts int) {
	for i, d := range all {
		size := d.picture.Rect.Size()
		fmt.Fprintf(w, "%s %d %d\n", sets[i/texts].kind, size.X, size.Y)
		for y := range size.Y {
			w.Write(d.picture.Pix[y*d.picture.Stride:][:size.X])
		}
	}
}

// python is the first Python that has the readers' modules: the one that comes
// first on the path may be another than the system's.
func python(t *testing.T) string {
	t.Helper()
	for _, dir := range append(filepath.SplitList(os.Getenv("PATH")), "/usr/bin") {
		p := filepath.Join(dir, "python3")
		if exec.Command(p, "-c", "import numpy, zbar, zxingcpp").Run() == nil {
			return p
		}
	}
	t.Fatal("no python3 has the modules numpy, zbar and zxingcpp: install the Debian packages python3-numpy, python3-zbar and python3-zxing-cpp")
	return ""
}
