package grade

import (
	"strings"

	"unspool/symbol"
)

// Rules of fixed patterns by symbology. Names of parts are those that the
// packages of the symbologies give them.
var (
	// plainShares is for the L and its quiet zone of Data Matrix (ISO/IEC 16022:2006
	// Table M.1; as github.com/bashrc2/datamatrix grades, read), and of every pattern
	// without a rule of its own (own judgement).
	plainShares = [4]float64{0, 0.09, 0.13, 0.17}
	// timingShares and alignmentShares are those of QR Code (ISO/IEC 18004 Annex G,
	// from memory).
	timingShares    = [4]float64{0, 0.07, 0.11, 0.14}
	alignmentShares = [4]float64{0, 0.10, 0.20, 0.30}
	// averageLimits are for the mean grade of Data Matrix's segments (ISO/IEC
	// 16022:2006 Annex M, from memory).
	averageLimits = [4]float64{4, 3.5, 3, 2.5}
)

// patterns are a symbol's fixed patterns, grouped as its symbology grades them;
// average says that the mean of the groups counts too.
func (s *sampled) patterns(name string) (groups []group, average bool) {
	switch name {
	case "qr":
		return s.qr(), false
	case "datamatrix":
		return s.dataMatrix(), true
	}
	for _, p := range s.r.Parts {
		// Aztec Code's mode message has an error correction of its own: it is read or
		// the symbol does not decode.
		if name != "aztec" || !strings.HasPrefix(p.Name, "mode") {
			groups = append(groups, group{patterns: []pattern{s.part(p.Name, p.Modules, byShare(plainShares))}})
		}
	}
	return groups, false
}

// named are the parts whose names begin so.
func named(parts []symbol.Part, prefix string) (some []symbol.Part) {
	for _, p := range parts {
		if strings.HasPrefix(p.Name, prefix) {
			some = append(some, p)
		}
	}
	return some
}

// qr are the segments of QR Code: the three corners with their separators and
// quiet zones, the timing patterns, all alignment patterns together, and both
// copies of the format and of the version information, of which the mean counts,
// cut to a whole grade (ISO/IEC 18004 Annex G, from memory; the cut is own).
func (s *sampled) qr() (groups []group) {
	for _, p := range named(s.r.Parts, "finder") {
		corner := s.part(p.Name, p.Modules, byCount)
		s.corner(&corner, p)
		groups = append(groups, group{patterns: []pattern{corner}})
	}
	for _, p := range named(s.r.Parts, "timing") {
		groups = append(groups, group{patterns: []pattern{s.part(p.Name, p.Modules, spaced(byShare(timingShares)))}})
	}
	var modules []int32
	for _, p := range named(s.r.Parts, "alignment") {
		modules = append(modules, p.Modules...)
	}
	if len(modules) > 0 {
		groups = append(groups, group{patterns: []pattern{s.part("alignment patterns", modules, byShare(alignmentShares))}})
	}
	for _, name := range []string{"format", "version"} {
		u := group{copies: true}
		for _, p := range named(s.r.Parts, name) {
			u.patterns = append(u.patterns, s.part(p.Name, p.Modules, byCount))
		}
		if len(u.patterns) > 0 {
			groups = append(groups, u)
		}
	}
	return groups
}

// corner adds the quiet zone around the corner that a finder pattern lies in: two
// arms 4 modules wide and 15 long. With the pattern's 49 modules and the
// separator's 15 that makes the 168 of the segment (ISO/IEC 18004 Annex G, from
// memory).
func (s *sampled) corner(p *pattern, part symbol.Part) {
	const wide, reach = 4, 15 - 4
	x0, y0, x1, y1 := -wide, -wide, reach, reach
	x, y := s.middle(part.Modules)
	if 2*x > s.m.W-1 {
		x0, x1 = s.m.W-reach, s.m.W+wide
	}
	if 2*y > s.m.H-1 {
		y0, y1 = s.m.H-reach, s.m.H+wide
	}
	p.quiet(s.m, x0, y0, x1, y1)
}

// middle is the mean place of modules.
func (s *sampled) middle(modules []int32) (x, y int) {
	n := max(len(modules), 1)
	for _, i := range modules {
		x, y = x+int(i)%s.m.W, y+int(i)/s.m.W
	}
	return x / n, y / n
}
