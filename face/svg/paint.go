package svg

import (
	"image"
	"math"

	"unspool/face/fill"
)

// painter draws on one picture.
type painter struct {
	out    *image.RGBA
	view   matrix
	raster fill.Raster
	cover  []uint8
}

func (p *painter) group(g group) {
	if g.opacity >= 1 {
		p.items(g.items)
		return
	}
	if g.opacity <= 0 {
		return
	}
	inner := painter{out: image.NewRGBA(p.out.Rect), view: p.view}
	inner.items(g.items)
	for i := 0; i < len(p.out.Pix); i += 4 {
		if inner.out.Pix[i+3] != 0 {
			s := inner.out.Pix[i : i+4]
			lay(p.out.Pix[i:i+4], [4]float64{float64(s[0]) / 255, float64(s[1]) / 255, float64(s[2]) / 255, float64(s[3]) / 255}, g.opacity)
		}
	}
}

func (p *painter) items(items []item) {
	for _, it := range items {
		if it.group != nil {
			p.group(*it.group)
		} else {
			p.shape(it.shape)
		}
	}
}

func (p *painter) shape(s *shape) {
	place := p.view.times(s.place)
	scale := place.scale()
	if !(scale > 0 && scale < 1e9) {
		return
	}
	chains := s.chains(scale)
	lo, hi := box(chains)
	if s.fill != nil {
		var outlines [][]point
		for _, c := range chains {
			outlines = append(outlines, c.points)
		}
		p.paint(outlines, place, s.rule, *s.fill, s.fillOpacity, lo, hi)
	}
	if s.stroke != nil && s.line.width > 0 {
		p.paint(s.line.stroke(chains, scale), place, fill.NonZero, *s.stroke, s.lineOpacity, lo, hi)
	}
}

// paint fills outlines under place with a paint, for a shape whose box is lo..hi.
func (p *painter) paint(outlines [][]point, place matrix, rule fill.Rule, with paint, opacity float64, lo, hi point) {
	page := make([][]point, len(outlines))
	var all []chain
	for i, o := range outlines {
		page[i] = make([]point, len(o))
		for k, v := range o {
			page[i][k] = place.apply(v)
		}
		all = append(all, chain{points: page[i]})
	}
	a, b := box(all)
	bounds := image.Rect(toInt(a.X), toInt(a.Y), toInt(math.Ceil(b.X)), toInt(math.Ceil(b.Y))).Intersect(p.out.Rect)
	if bounds.Empty() || opacity == 0 {
		return
	}
	p.raster.Reset(bounds.Dx(), bounds.Dy())
	for _, o := range page {
		for k, v := range o {
			v = point{X: v.X - float64(bounds.Min.X), Y: v.Y - float64(bounds.Min.Y)}
			if k == 0 {
				p.raster.MoveTo(v)
			} else {
				p.raster.LineTo(v)
			}
		}
	}
	if n := bounds.Dx() * bounds.Dy(); cap(p.cover) < n {
		p.cover = make([]uint8, n)
	}
	p.raster.Coverage(p.cover[:bounds.Dx()*bounds.Dy()], rule)
	p.lay(bounds, with, opacity, place, lo, hi)
}

// toInt floors v within what the picture could need.
func toInt(v float64) int { return int(math.Floor(min(max(v, -1), 1<<20))) }

// lay puts the paint on the picture where the coverage says.
func (p *painter) lay(bounds image.Rectangle, with paint, opacity float64, place matrix, lo, hi point) {
	c := with.colour
	flat := [4]float64{c[0] * c[3], c[1] * c[3], c[2] * c[3], c[3]}
	colour := func(point) [4]float64 { return flat }
	if with.gradient != nil {
		colour = with.gradient.under(place, lo, hi)
	}
	i := 0
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			if v := p.cover[i]; v != 0 {
				o := p.out.PixOffset(x, y)
				lay(p.out.Pix[o:o+4], colour(point{X: float64(x) + 0.5, Y: float64(y) + 0.5}), opacity*float64(v)/255)
			}
			i++
		}
	}
}

// lay puts a colour multiplied by alpha over a dot.
func lay(dot []uint8, c [4]float64, opacity float64) {
	left := 1 - c[3]*opacity
	for i := range dot {
		dot[i] = uint8(min(c[i]*opacity*255+float64(dot[i])*left, 255) + 0.5)
	}
}
