package ribbon

import (
	"testing"

	"unspool/panel"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// An F of resin on a face of 6 x 4 dots, to tell turns from mirrors.
var letterF = []string{
	"......",
	".###..",
	".##...",
	".#....",
}

func face(rows []string) *panel.Panels {
	g := plane.Grid{W: len(rows[0]), H: len(rows), DX: 300, DY: 600}
	p := &panel.Panels{Grid: g, K: make([]uint8, g.Dots())}
	for y, r := range rows {
		for x := range r {
			if r[x] == '#' {
				p.K[p.At(x, y)] = 1
			}
		}
	}
	return p
}

func show(f Frame) []string {
	var rows []string
	for y := range f.H {
		row := ""
		for x := range f.W {
			if f.Gone[y*f.W+x] == 255 {
				row += "#"
			} else {
				row += "."
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// The web moves to the left, the card's leading edge in front; seen through the
// carrier a direct print reads right, a retransfer print is mirrored. Turning
// the letter by hand gives the pictures.
func TestFrameLiesAsItIsFed(t *testing.T) {
	for _, c := range []struct {
		name    string
		leads   site.Edge
		process site.Process
		want    []string
	}{
		{"left leads", site.Left, site.Direct, letterF},
		{"right leads: half a turn", site.Right, site.Direct, []string{"....#.", "...##.", "..###.", "......"}},
		{"top leads: a quarter turn, top to the left", site.Top, site.Direct, []string{"....", "....", ".#..", ".##.", ".###", "...."}},
		{"bottom leads: a quarter turn, bottom to the left", site.Bottom, site.Direct, []string{"....", "###.", ".##.", "..#.", "....", "...."}},
		{"retransfer, right leads: as in a mirror", site.Right, site.Retransfer, []string{"......", "..###.", "...##.", "....#."}},
		{"retransfer, left leads", site.Left, site.Retransfer, []string{".#....", ".##...", ".###..", "......"}},
	} {
		pr := site.Printer{Process: c.process}
		pr.Lie[site.Front].Leads = c.leads
		f := Spent(face(letterF), []site.Panel{{Letter: 'K', Kind: site.BlackResin}}, site.Front, pr)[0]
		got := show(f)
		for y := range c.want {
			if len(got) != len(c.want) || got[y] != c.want[y] {
				t.Errorf("%s:\n%q, want\n%q", c.name, got, c.want)
				break
			}
		}
		if along := c.leads.Horizontal(); along != (f.DX == 300) {
			t.Errorf("%s: pitch along the feed %v", c.name, f.DX)
		}
	}
}

// A panel that nothing was printed from stays whole.
func TestUnprintedPanelStaysWhole(t *testing.T) {
	f := Spent(face(letterF), []site.Panel{{Letter: 'Y', Kind: site.Yellow}}, site.Front, site.Printer{})[0]
	for _, v := range f.Gone {
		if v != 0 {
			t.Fatal("something left the yellow panel")
		}
	}
	m := f.Image()
	if c := m.RGBAAt(0, 0); c.R != webColour[site.Yellow][0] {
		t.Errorf("whole yellow panel is painted %v", c)
	}
}

// One set a printed side is used whether it carries ink or not (common
// practice, no source); the sums are arithmetic.
func TestNeed(t *testing.T) {
	again := site.Ribbon{Panels: make([]site.Panel, 5), BackAgain: true, Yield: 200, Price: 5000, Pitch: 90 * unit.Millimetre}
	tail := again
	tail.BackAgain, tail.Panels = false, make([]site.Panel, 6)
	for _, c := range []struct {
		name        string
		r           site.Ribbon
		cards       int
		front, back bool
		want        Run
	}{
		{"front alone", again, 150, true, false, Run{Sets: 150, Frames: 750, Rolls: 1, Left: 50, Cost: 3750, Web: 67500 * unit.Millimetre}},
		{"both sides, a set each", again, 150, true, true, Run{Sets: 300, Frames: 1500, Rolls: 2, Left: 100, Cost: 7500, Web: 135000 * unit.Millimetre}},
		{"both sides from one set", tail, 150, true, true, Run{Sets: 150, Frames: 900, Rolls: 1, Left: 50, Cost: 3750, Web: 81000 * unit.Millimetre}},
		{"nothing", again, 0, true, true, Run{}},
		{"yield unknown", site.Ribbon{Panels: make([]site.Panel, 2)}, 10, true, false, Run{Sets: 10, Frames: 20}},
	} {
		if got := Need(c.r, c.cards, c.front, c.back); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
