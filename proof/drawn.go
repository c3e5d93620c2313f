package proof

import (
	"unspool/face"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// Drawn is how a code came out on one card.
type Drawn struct {
	Code   int    // index into Proof.Codes
	Text   string // what it carries, check character included
	Size   symbol.Size
	X      unit.Length // narrow element
	N      float64     // wide:narrow ratio; 0 for modular symbologies
	Width  unit.Length // with both quiet zones
	Height unit.Length // of the bars
	// Modules is how a two-dimensional code is made up; nil of a linear one.
	Modules *DrawnModules
}

// DrawnModules is what a two-dimensional code is made of, as it lies on the face.
type DrawnModules struct {
	W, H int            // modules across and down, without the quiet zone
	Dots [2]int         // of a module, across and down
	Size [2]unit.Length // of a module; of a multi-row code the height of a row
	Spec string         // what the standard calls this symbol: "version 2-M, mask 3"
}

// Matched is how near the dyes come to the colours of a photo or picture on one
// card: CIEDE2000 between the page, media relative, and what the dyes give.
type Matched struct {
	Side    site.Side
	Element string
	Mean    float64
	Worst   float64
}

// drawn is the code c as it came out.
func (pf *Proof) drawn(s *sideWork, c *face.Placed) Drawn {
	pitch := along(c, s.setup.Grid())
	e := exam{side: s.side, c: c}
	d := Drawn{Code: pf.codeIndex(s.Side, c.Element), Text: c.Text(), Size: c.Size, X: pitch.Span(c.Size.X), Height: e.height()}
	if c.Kind.Family == symbol.TwoWidth {
		d.N = float64(c.Size.Wide) / float64(c.Size.X)
	}
	if g := s.setup.Grid(); c.Matrix != nil {
		d.Modules = &DrawnModules{c.Lies.W, c.Lies.H, c.Module, [2]unit.Length{g.DX.Span(c.Module[0]), g.DY.Span(c.Module[1])}, c.Matrix.Spec}
	}
	d.Width = pitch.Span(c.Quiet.W())
	if !c.AlongX {
		d.Width = pitch.Span(c.Quiet.H())
	}
	return d
}

// matched is every photo and picture of the side that is printed in dye.
func (s *sideWork) matched() (out []Matched) {
	for i := range s.face.Elements {
		e, n := &s.face.Elements[i], s.counts[i+1]
		if dye := n.Dots - n.Resin; (e.Photo != nil || e.Picture != nil) && n.Dye > 0 && dye > 0 {
			out = append(out, Matched{s.Side, e.Name, n.DeltaE / float64(dye), float64(n.MaxDeltaE)})
		}
	}
	return out
}

// CodeSizes is how a code came out over a run: as it is drawn with the smallest
// narrow elements and with the largest.
type CodeSizes struct {
	Cards             int // that carry it; the sizes mean nothing where 0
	Smallest, Largest Drawn
}

func (z *CodeSizes) add(d Drawn) {
	if z.Cards++; z.Cards == 1 {
		z.Smallest, z.Largest = d, d
		return
	}
	if d.X < z.Smallest.X || d.X == z.Smallest.X && d.Width > z.Smallest.Width {
		z.Smallest = d
	}
	if d.X > z.Largest.X {
		z.Largest = d
	}
}

// Colours is how a photo or picture element is matched over a run.
type Colours struct {
	Side     site.Side
	Element  string
	Cards    int
	Mean     float64 // of the cards' means
	Worst    float64 // the largest difference of a dot on any card
	WorstRow int
}
