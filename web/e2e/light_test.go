package e2e

import (
	"encoding/json"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"unspool/ink"
	"unspool/unit"
)

// element is a bar or space of a code where it is printed, in dots.
type element struct {
	From, To float64
	Bar      bool
}

// By keyboard alone the lamp goes to the clock's light; on the picture of the
// screen, linearised, the print contrast signal (space - bar) / space of black
// mixed from dyes is then under 0.10 and that of resin over 0.80. The bounds are
// those that the bench promises; the definition of the signal is common practice.
func TestLampTellsTheBlacksApart(t *testing.T) {
	for _, c := range []struct {
		file        string
		least, most float64
		verdict     string
	}{
		{tooLittle(), -1, 0.10, "does not read"},
		{right(), 0.80, 1, "reads"},
	} {
		p := open(t, serve(t, c.file), "#light")
		p.tabTo("#lamp")
		p.press(kb.PageUp, kb.PageUp) // from one reader's light to the next
		p.wait(`document.querySelector("canvas[data-face=front]").dataset.lamp === "940"`)
		if says := p.text("#lamp-says"); !strings.Contains(says, "940 nm") || !strings.Contains(says, "unseen") {
			t.Errorf("the lamp says %q", says)
		}
		p.wait(fmt.Sprintf(`document.querySelector("#light-says").textContent.includes("Quay clock %s")`, c.verdict))
		if pcs := p.contrast(); pcs < c.least || pcs > c.most {
			t.Errorf("%s: print contrast signal %.3f at 940 nm, want %v to %v", c.file, pcs, c.least, c.most)
		} else {
			t.Logf("print contrast signal at 940 nm: %.3f", pcs)
		}
	}
}

// contrast zooms by keyboard to the crew code and measures its bars and spaces
// on a picture of the screen.
func (p *tab) contrast() float64 {
	p.t.Helper()
	line := eval[struct {
		At    float64
		Drawn []element
	}](p, `fetch("/api/card/0/trace?code=0&reader=0").then((r) => r.json())`)
	// The zoom keys look closer at the dot that is pointed at.
	p.focus("#face-front")
	eval[any](p, fmt.Sprintf(`bench.faces[0].look(%d, %d), null`, int(line.Drawn[20].From), int(line.At)))
	p.press("+", "+", "+", "+")
	eval[any](p, `document.querySelector("#face-front").scrollIntoView({ block: "center", behavior: "instant" }), null`)
	f := eval[struct{ Left, Top, Wide, High, D, X, Y float64 }](p, `(() => { const f = bench.faces[0], b = f.frame.getBoundingClientRect();
		return { left: b.left, top: b.top, wide: b.width, high: b.height, d: f.lie.fit * f.lie.k, x: f.lie.x, y: f.lie.y }; })()`)
	if f.D < 3 {
		p.t.Fatalf("a dot is %.2f screen points wide", f.D)
	}
	m := p.shot()
	var sum [2]float64
	var n [2]int
	for _, e := range line.Drawn {
		x, y := math.Floor((e.From+e.To)/2)+0.5, math.Floor(line.At)-6.5
		at := image.Pt(int(f.X+x*f.D), int(f.Y+y*f.D))
		if at.X < 4 || at.Y < 4 || float64(at.X) > f.Wide-4 || float64(at.Y) > f.High-4 {
			continue
		}
		kind := 0
		if e.Bar {
			kind = 1
		}
		r, _, _, _ := m.At(int(f.Left)+at.X, int(f.Top)+at.Y).RGBA()
		sum[kind] += linear(float64(r) / 65535)
		n[kind]++
	}
	if n[0] < 8 || n[1] < 8 {
		p.t.Fatalf("only %v spaces and bars are on the screen", n)
	}
	space, bar := sum[0]/float64(n[0]), sum[1]/float64(n[1])
	return (space - bar) / space
}

// linear undoes the sRGB transfer function (IEC 61966-2-1).
func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// panels of a side as the page holds them.
type panels struct {
	At               []int // sampled dots
	Y, M, C, K, S, O []uint8
	Grey             []uint8 // what the canvas shows there
}

// relit are programmes whose faces the page relights: the demo with other
// printers, ribbons and elements. special is the resin of the panel beside the
// black, by side; least says of what, by side, some dots have to be sampled, b for
// both resins on one dot.
var relit = []struct {
	name    string
	change  []string // old and new text of the programme file
	special [2]ink.Resin
	least   [2]string
}{
	{"direct", nil, [2]ink.Resin{}, [2]string{"kymco", "k"}},
	{"retransfer", []string{"process: direct", "process: retransfer"}, [2]ink.Resin{}, [2]string{"kymco", "k"}},
	{"top edge leads, back turned", []string{"process: direct", "process: direct\n  front: {leads: top}\n  back: {leads: bottom}"}, [2]ink.Resin{}, [2]string{"kymco", "k"}},
	{"silver over black", []string{"YMCKOK", "YMCKSOK", "  back:\n", "    - {name: disc, ellipse: [28, 34, 30, 14], fill: black, send: special}\n  back:\n"}, [2]ink.Resin{ink.Metallic()}, [2]string{"kymcosb", "k"}},
	{"white on the front, gold on the back", []string{"YMCKOK", "YMCKWOKG", "{name: mark,", "{name: disc, ellipse: [28, 34, 30, 14], fill: black, send: special}\n    - {name: mark,",
		"{name: return,", "{name: disc behind, ellipse: [2, 18, 30, 14], fill: black, send: special}\n    - {name: return,"}, [2]ink.Resin{ink.White(), ink.Gold()}, [2]string{"kymcos", "ks"}},
	{"resin alone", []string{"YMCKOK", "KOK"}, [2]ink.Resin{}, [2]string{"ko", "k"}},
}

// The page's own arithmetic gives what the engine gives, within 1 of 255, on
// dots all over both sides at wavelengths all over the lamp, and with nothing
// laid the bare card.
func TestRelitFaceIsTheEngines(t *testing.T) {
	model := ink.Usual()
	for _, c := range relit {
		p := open(t, serve(t, rewritten(t, c.change...)), "#light?row=2")
		eval[any](p, `bench.ready.then(() => null)`)
		for face := range 2 {
			s := sample(p, face)
			for what, n := range s.count() {
				if n == 0 && strings.ContainsRune(c.least[face], what) {
					t.Errorf("%s, face %d: no dot sampled has %c", c.name, face, what)
				}
			}
		}
		for _, nm := range []int{380, 520, 660, 780, 940, 1000} {
			for face := range 2 {
				eval[any](p, fmt.Sprintf(`(() => { bench.state.lamp = %d; bench.faces[%d].part = null; bench.faces[%[2]d].draw(); return null; })()`, nm, face))
				s := sample(p, face)
				black, special := model.Under(ink.Line(unit.Nanometres(nm))), model.UnderResin(ink.Line(unit.Nanometres(nm)), c.special[face])
				s.compare(t, fmt.Sprintf("%s, face %d at %d nm", c.name, face, nm), black, special)
				eval[any](p, fmt.Sprintf(`(() => { const f = bench.faces[%d]; f.part = { panels: { ...f.panels, planes: {} }, film: new Uint8Array(f.film.length) }; f.draw(); return null; })()`, face))
				bare := panels{At: s.At, Grey: sample(p, face).Grey}
				bare.Y, bare.M, bare.C, bare.K, bare.S, bare.O = s.none(), s.none(), s.none(), s.none(), s.none(), s.none()
				bare.compare(t, fmt.Sprintf("%s, bare face %d at %d nm", c.name, face, nm), black, special)
			}
		}
	}
}

func (s panels) none() []uint8 { return make([]uint8, len(s.At)) }

// count counts the dots that have something of each plane.
func (s panels) count() map[rune]int {
	n := map[rune]int{}
	for what, plane := range map[rune][]uint8{'y': s.Y, 'm': s.M, 'c': s.C, 'k': s.K, 's': s.S, 'o': s.O} {
		for _, v := range plane {
			if v != 0 {
				n[what]++
			}
		}
		n[what] += 0
	}
	n['b'] = 0 // both resins on one dot
	for i := range s.K {
		if s.K[i] != 0 && s.S[i] != 0 {
			n['b']++
		}
	}
	return n
}

// compare holds what the page shows against the engine.
func (s panels) compare(t *testing.T, where string, black, special *ink.Table) {
	t.Helper()
	for i, at := range s.At {
		r := black.R(s.Y[i], s.M[i], s.C[i], s.K[i] != 0)
		if s.S[i] != 0 {
			r = special.R(s.Y[i], s.M[i], s.C[i], true)
		}
		if s.O[i] != 0 {
			r = black.Overlaid(r)
		}
		if want := 255 * ink.Encode(float64(r)); math.Abs(want-float64(s.Grey[i])) > 1 {
			t.Fatalf("%s: dot %d shows %d, the engine %.2f", where, at, s.Grey[i], want)
		}
	}
}

// rewritten is a demo programme of its own with parts of its text replaced.
func rewritten(t testing.TB, change ...string) string {
	t.Helper()
	if len(change) == 0 {
		return right()
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(programme)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "programme.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(change); i += 2 {
		if strings.Count(text, change[i]) != 1 {
			t.Fatalf("the programme has %q %d times", change[i], strings.Count(text, change[i]))
		}
		text = strings.Replace(text, change[i], change[i+1], 1)
	}
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

// sample takes every 97th dot of a face, from the panels and from the canvas.
func sample(p *tab, face int) (s panels) {
	p.t.Helper()
	data := eval[string](p, fmt.Sprintf(`(() => {
		const f = bench.faces[%d], n = f.side.w * f.side.h, shown = f.ink.getImageData(0, 0, f.side.w, f.side.h).data;
		const at = []; for (let i = 0; i < n; i += 97) at.push(i);
		const of = (k) => at.map((i) => f.panels.planes[k]?.[i] ?? 0), b64 = (a) => btoa(String.fromCharCode(...a));
		return JSON.stringify({ at, y: b64(of("y")), m: b64(of("m")), c: b64(of("c")), k: b64(of("k")), s: b64(of("s")), o: b64(of("o")), grey: b64(at.map((i) => shown[4 * i])) });
	})()`, face))
	p.good(json.Unmarshal([]byte(data), &s))
	if len(s.At) < 6000 || len(s.Grey) != len(s.At) {
		p.t.Fatalf("%d dots", len(s.At))
	}
	return s
}

// BenchmarkRelight is the script's time for one relighting of a face of 1011 by
// 638 dots; the bench promises 8 ms.
func BenchmarkRelight(b *testing.B) {
	p := open(b, serve(b, right()), "#light")
	var sum, worst float64
	for b.Loop() {
		took := eval[struct{ Median, Worst float64 }](p, `bench.relight(20)`)
		sum += took.Median
		worst = max(worst, took.Worst)
	}
	b.ReportMetric(sum/float64(b.N), "ms/face")
	b.ReportMetric(worst, "worst-ms")
}
