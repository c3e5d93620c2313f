package web

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"unspool/code"
	"unspool/folder"
)

// gangway has a QR Code in resin, a Data Matrix mixed from dyes, and bars.
const gangway = `unspool: 1
name: Gangway cards
printer: {dpi: 300}
ribbon: {panels: YMCKO, resin: carbon}
black: none
faces:
  front:
    - {name: quay, code: qr, text: "S{number} Sundhaven", box: [4, 4, 24, 24], backing: true, send: resin}
    - {name: stores, code: datamatrix, text: "{number}", box: [32, 4, 20, 20], backing: true, send: dye}
    - {name: bars, code: code39, text: "{number}", box: [4, 36, 60, 10], backing: true, send: resin}
readers:
  - {name: camera, kind: camera, light: 660, accepts: [qr, datamatrix]}
  - {name: gate, kind: camera, light: 940, accepts: [qr, datamatrix]}
roster: {file: crew.csv, key: number}
`

func gangwayBench(t *testing.T) *Bench {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"programme.yaml": gangway, "crew.csv": "number\n004217\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	f, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return bench(t, func(o *Options) { o.Folder = f })
}

// A code's modules come with what they carry and send back, in each light; in
// infrared the code of dyes has no contrast and grade 0.
func TestLookAtModules(t *testing.T) {
	type look struct {
		W, H, Quiet     int
		Reflectance     []float64
		Dark, Of, Wrong []int
		GT, Rmin, Rmax  float64
		Aperture, Peak  float64
		Read, Spot      bool
		Parts           []struct{ Name string }
		Quality         struct {
			Grade   struct{ Text string }
			Figures []struct{ Name, Why string }
		}
	}
	b := gangwayBench(t)
	for _, c := range []struct {
		target string
		side   int // modules a side: QR Code version 2, ISO/IEC 18004 Table 1; Data Matrix 12 x 12, ISO/IEC 16022 Table 7
		grade  string
		read   bool
	}{
		{"code=0&reader=0", 25, "4.0/", true}, {"code=0&reader=1&aperture=spot", 25, "4.0/", true},
		{"code=1&reader=0&aperture=standard", 10, "4.0/", true}, {"code=1&reader=1", 10, "0.0/", false},
	} {
		l := get[look](t, b, "/api/card/0/look?"+c.target)
		side := l.W + 2*l.Quiet
		if l.W != c.side || l.H != c.side || len(l.Reflectance) != side*side || len(l.Dark) != l.W*l.H || len(l.Of) != l.W*l.H || len(l.Parts) == 0 {
			t.Fatalf("%s: %d x %d, %d and %d", c.target, l.W, l.H, len(l.Reflectance), len(l.Dark))
		}
		if !strings.HasPrefix(l.Quality.Grade.Text, c.grade) || l.Read != c.read || l.Spot != strings.HasSuffix(c.target, "spot") {
			t.Errorf("%s: %s, read %v", c.target, l.Quality.Grade.Text, l.Read)
		}
		if c.read && len(l.Wrong) > 0 || (l.Rmax-l.Rmin > 0.5) != c.read {
			t.Errorf("%s: %v wrong, %.2f to %.2f", c.target, l.Wrong, l.Rmin, l.Rmax)
		}
		for _, f := range l.Quality.Figures {
			if f.Name == "" || f.Why == "" {
				t.Errorf("%s: %+v", c.target, f)
			}
		}
	}
	for target, status := range map[string]int{"code=2&reader=0": 404, "code=3&reader=0": 404, "code=0&reader=2": 404, "code=0&reader=0&aperture=wide": 400, "code=x&reader=0": 400} {
		if got := ask(b, request(http.MethodGet, "/api/card/0/look?"+target, "")).StatusCode; got != status {
			t.Errorf("%s: %d, not %d", target, got, status)
		}
	}
	if got := ask(b, request(http.MethodGet, "/api/card/0/trace?code=0&reader=0", "")).StatusCode; got != 404 {
		t.Errorf("modules have a scan profile: %d", got)
	}
}

// The card says what a two-dimensional code is made of, and each step of X needs
// room both ways; bars have neither.
func TestCardOfModules(t *testing.T) {
	codes := get[cardForm](t, gangwayBench(t), "/api/card/0").Codes
	if m := codes[0].Matrix; m == nil || m.W != 25 || m.H != 25 || m.Module != [2]int{8, 8} || m.Rows || !strings.HasPrefix(m.Spec, "version 2-M") || codes[0].Text != "S004217 Sundhaven" {
		t.Errorf("%+v", codes[0])
	}
	const dot = 25.4 / 300
	for _, s := range codes[0].Steps {
		if need := float64(s.Dots*(25+2*4)) * dot; !near(float64(s.Need), need) || !near(float64(s.Across), need) {
			t.Errorf("%+v, not %.3f mm", s, need)
		}
	}
	if bars := codes[2]; bars.Matrix != nil || len(bars.Steps) == 0 || bars.Steps[0].Across != 0 {
		t.Errorf("%+v", bars)
	}
}

// Every fixed pattern that a symbol has is named in German.
func TestPartsInGerman(t *testing.T) {
	src, err := os.ReadFile("assets/parts.de.js")
	if err != nil {
		t.Fatal(err)
	}
	var like []*regexp.Regexp
	for _, m := range regexp.MustCompile(`(?m)^  "([^"]+)": "`).FindAllStringSubmatch(string(src), -1) {
		like = append(like, regexp.MustCompile("^"+regexp.QuoteMeta(m[1])+"$"))
	}
	for _, m := range regexp.MustCompile(`(?m)^  \[/(.+)/, "`).FindAllStringSubmatch(string(src), -1) {
		like = append(like, regexp.MustCompile(m[1]))
	}
	used := make([]bool, len(like))
	for _, k := range code.All() {
		for _, n := range []int{5, 300} {
			for _, oblong := range []bool{false, k.Name == "datamatrix" && n == 5} {
				if k.Family.Linear() {
					continue
				}
				text := strings.Repeat("A", n)
				if oblong {
					text = strings.Repeat("A", 30) // of two regions
				}
				m, err := k.EncodeMatrix(text, code.Options{Oblong: oblong})
				if err != nil {
					t.Fatal(k.Name, err)
				}
				for _, p := range m.Parts {
					found := false
					for i, r := range like {
						if r.MatchString(p.Name) {
							found, used[i] = true, true
						}
					}
					if !found {
						t.Errorf("%s: no German for %q", k.Name, p.Name)
					}
				}
			}
		}
	}
	for i, u := range used {
		if !u {
			t.Errorf("%v names no part", like[i])
		}
	}
}
