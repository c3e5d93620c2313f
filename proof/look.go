package proof

import (
	"unspool/grade"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// Sighting is a two-dimensional code as a reader's light shows it, module by module,
// the way it lies on the face.
type Sighting struct {
	Side   site.Side
	At     plane.Rect // the symbol without its quiet zone, in dots of the face
	Module [2]int     // dots of a module, across and down
	// Modules are the reflectances of the modules' middles through the aperture. Of
	// a multi-row symbol each row has one module down.
	Modules    grade.Modules
	Rmin, Rmax float64
	GT         float64     // global threshold: what sends back no more is dark
	Truth      symbol.Grid // the symbol as it should be
	// Layout says what each module is for, in the order of Truth.
	symbol.Layout
	Spec     string // what the standard calls this symbol
	Peak     unit.Nanometres
	Aperture unit.Length // diameter it is seen through
	Spot     bool        // the aperture is the reader's own
	// Read says whether a reader decodes the symbol, seen through its own spot, to
	// what the code carries, and Why not.
	Read bool
	Why  say.Text
	// Quality is the grading by ISO/IEC 15415, through the standard's aperture
	// whichever the modules are seen through.
	Quality grade.Quality
}

// Wrong says whether a module, by its index in Truth, lies on the wrong side of
// the threshold.
func (l *Sighting) Wrong(module int) bool { return l.dark(module) != l.Truth.Dark[module] }

// Reflectance of a module, by its index in Truth.
func (l *Sighting) Reflectance(module int) float64 {
	m := &l.Modules
	return float64(m.R[(module/m.W+m.Quiet)*(m.W+2*m.Quiet)+module%m.W+m.Quiet])
}

func (l *Sighting) dark(module int) bool { return l.Reflectance(module) <= l.GT }

// Look looks at a two-dimensional code of the card with a reader's light: through
// the reader's own spot, or through the standard's aperture. ok is false where the
// code is not drawn or is a linear one, and where there is no such code or reader.
func (k *Shown) Look(code, reader int, spot bool) (l Sighting, ok bool) {
	if code < 0 || code >= len(k.pf.Codes) || reader < 0 || reader >= len(k.pf.readers) {
		return l, false
	}
	side, c := k.code(code)
	if c == nil || c.Matrix == nil {
		return l, false
	}
	// The symbol as drawn, read, is what tells which module is which however it is
	// turned.
	drawn, err := c.Kind.DecodeMatrix(c.Lies)
	if err != nil {
		return l, false
	}
	x := k.exam(side, c, side.Panels, reader)
	s := x.under(x.lit.usual)
	l = Sighting{Side: side.Side, At: c.Bars, Module: c.Module, Truth: c.Lies, Layout: drawn.Layout, Spec: c.Matrix.Spec, Peak: x.r.Peak,
		Spot: spot, Aperture: x.aperture().Diameter, Quality: s.quality(0)}
	if spot {
		l.Aperture = x.r.Spot
	}
	l.Modules = s.modules(l.Aperture)
	if len(l.Modules.R) == 0 {
		return l, false
	}
	lo, hi := l.Modules.R[0], l.Modules.R[0]
	for _, v := range l.Modules.R {
		lo, hi = min(lo, v), max(hi, v)
	}
	l.Rmin, l.Rmax, l.GT = float64(lo), float64(hi), float64((lo+hi)/2)
	seen := s.look()
	l.Read, l.Why = !seen.fails, seen.why
	return l, true
}
