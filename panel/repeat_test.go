package panel

import (
	"slices"
	"testing"

	"unspool/face"
	"unspool/plane"
	"unspool/site"
)

// sameAsSplit separates each artwork in turn, all of it in the given rectangles, and
// holds what Repeat makes of it against what Split makes of it anew.
func sameAsSplit(t *testing.T, u *Setup, rects []plane.Rect, arts ...*face.Art) {
	t.Helper()
	panels := u.NewPanels()
	repeat := u.Repeat(panels)
	for n, a := range arts {
		got, want, anew := make([]Count, 9), make([]Count, 9), u.NewPanels()
		for _, r := range rects {
			repeat.Split(a, r, got)
			u.Split(anew, a, r, want)
			if !slices.Equal(panels.Area(r, nil), anew.Area(r, nil)) {
				t.Errorf("card %d: the dots of %v differ", n, r)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("card %d: counts %v, want %v", n, got, want)
		}
	}
}

// Two rectangles that change may share a tile, as a photo and the text beside it
// do.
func TestRepeatOfNeighbours(t *testing.T) {
	u := New(card, printer, ribbonOf("YMCKO"), site.Black{Rule: site.Exact}, site.Front, nil)
	left, right := plane.Rect{X0: 2, Y0: 5, X1: 20, Y1: 15}, plane.Rect{X0: 30, Y0: 5, X1: 50, Y1: 15}
	one := face.NewArt(u.Grid())
	dots(one, left, [3]uint8{0, 0, 0}, face.Photo, 0, 1)
	dots(one, right, [3]uint8{90, 0, 0}, face.Text, 0, 2)
	two := face.NewArt(u.Grid())
	dots(two, left, [3]uint8{0, 80, 0}, face.Photo, 0, 1)
	dots(two, right, [3]uint8{90, 0, 0}, face.Text, 0, 2)
	sameAsSplit(t, u, []plane.Rect{left, right}, one, one, two, one)
}

// A card without a photo between two that have one.
func TestRepeatWhereHalftonesComeAndGo(t *testing.T) {
	u := New(card, printer, ribbonOf("KO"), site.Black{Rule: site.All}, site.Front, nil)
	r := plane.Rect{X0: 2, Y0: 5, X1: 50, Y1: 15}
	photo, none := face.NewArt(u.Grid()), face.NewArt(u.Grid())
	dots(photo, r, [3]uint8{90, 90, 90}, face.Photo, 0, 1)
	dots(none, plane.Rect{X0: 2, Y0: 5, X1: 9, Y1: 15}, [3]uint8{0, 0, 0}, face.Text, 0, 2)
	sameAsSplit(t, u, []plane.Rect{r}, none, photo, none, none)
}
