package symbol

import (
	"strings"
	"testing"
)

// corner is three modules wide and two high, dark at the top left and beside the
// bottom right.
func corner() Grid {
	g := NewGrid(3, 2)
	g.Set(0, 0, true)
	g.Set(1, 1, true)
	g.Set(2, 1, true)
	return g
}

// Every dot of a module is as its module is, at every turn; the quiet zone is
// white. Drawn by hand.
func TestRasterGrid(t *testing.T) {
	for _, c := range []struct {
		turn int
		want string
	}{
		{0, `
			........
			.##.....
			...####.
			........`},
		{90, `
			....
			..#.
			..#.
			.#..
			.#..
			.#..
			.#..
			....`},
		{180, `
			........
			.####...
			.....##.
			........`},
	} {
		d := GridDrawing{Module: [2]int{2, 1}, Quiet: [2]int{1, 1}, Turn: c.turn}
		m, err := RasterGrid(corner(), d)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for y := range m.Rect.Dy() {
			b.WriteByte('\n')
			for x := range m.Rect.Dx() {
				b.WriteByte(".#"[m.ColorIndexAt(x, y)])
			}
		}
		want := strings.ReplaceAll(c.want, "\t", "")
		if b.String() != want {
			t.Errorf("turn %d:%s\nwant%s", c.turn, b.String(), want)
		}
	}
}

// The picture says its size, and its edges are whole dots.
func TestSVGGrid(t *testing.T) {
	svg, err := SVGGrid(corner(), GridDrawing{Module: [2]int{2, 1}, Quiet: [2]int{1, 1}, Turn: 90}, 254, 508, "a <b>")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`width="0.200mm" height="0.800mm" viewBox="0 0 4 8"`, "<title>a &lt;b&gt;</title>", `d="M2 1h1v2h-1zM1 3h1v2h-1zM1 5h1v2h-1z"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in %s", want, svg)
		}
	}
}

func TestGridDrawingRefuses(t *testing.T) {
	good := GridDrawing{Module: [2]int{2, 2}}
	for what, f := range map[string]func(*Grid, *GridDrawing){
		"no modules":  func(g *Grid, _ *GridDrawing) { *g = Grid{} },
		"odd turn":    func(_ *Grid, d *GridDrawing) { d.Turn = 45 },
		"no dots":     func(_ *Grid, d *GridDrawing) { d.Module[1] = 0 },
		"quiet below": func(_ *Grid, d *GridDrawing) { d.Quiet[0] = -1 },
		"too large":   func(_ *Grid, d *GridDrawing) { d.Module = [2]int{1 << 20, 1 << 20} },
	} {
		g, d := corner(), good
		f(&g, &d)
		if _, err := RasterGrid(g, d); err == nil {
			t.Errorf("%s: drawn", what)
		}
		if _, err := SVGGrid(g, d, 300, 300, ""); err == nil {
			t.Errorf("%s: drawn as SVG", what)
		}
	}
}
