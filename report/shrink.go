package report

import (
	"image"

	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
)

// widest is the most dots a picture in a page has along a side: a card at
// 300 dpi as it stands, at 600 dpi at half its dots. Only pictures to look at
// are ever made smaller.
const widest = 1300

// step is how many dots along a side of n are drawn as one.
func step(n int) int { return (n + widest - 1) / widest }

// shrink averages blocks of a plane of k values a dot.
func shrink[T uint8 | float32](v []T, g plane.Grid, k int) ([]T, plane.Grid) {
	sx, sy := step(g.W), step(g.H)
	if sx <= 1 && sy <= 1 {
		return v, g
	}
	to := plane.Grid{W: g.W / sx, H: g.H / sy, DX: g.DX, DY: g.DY}
	out := make([]T, k*to.Dots())
	for y := range to.H {
		for x := range to.W {
			for c := range k {
				sum := 0.0
				for j := range sy {
					for i := range sx {
						sum += float64(v[k*g.At(x*sx+i, y*sy+j)+c])
					}
				}
				out[k*to.At(x, y)+c] = T(sum / float64(sx*sy))
			}
		}
	}
	return out, to
}

func shrinkEye(v proof.View) proof.View {
	pix, to := shrink(v.Eye.Pix, v.Grid, 4)
	v.Eye, v.Grid = &image.RGBA{Pix: pix, Stride: 4 * to.W, Rect: image.Rect(0, 0, to.W, to.H)}, to
	return v
}

func shrinkLight(p plane.Picture) plane.Picture {
	p.R, p.Grid = shrink(p.R, p.Grid, 1)
	return p
}

func shrinkFrame(f ribbon.Frame) ribbon.Frame {
	f.Gone, f.Grid = shrink(f.Gone, f.Grid, 1)
	return f
}
