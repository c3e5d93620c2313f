package proof

import (
	"strconv"

	"unspool/face"
	"unspool/grade"
	"unspool/say"
)

// usualShare is the share of an Aztec Code that ISO/IEC 24778 recommends to keep
// for error correction, in per cent (from memory).
const usualShare = 23

// levelLow looks for less error correction than is usual in a symbol that is to be
// carried about for years: the L of QR Code, less than the share that Aztec Code's
// standard recommends, less than the level that PDF417's Annex E recommends.
func (f *finder) levelLow(s *sideWork, c *face.Placed) {
	o := c.Options
	least := ""
	switch c.Kind.Name {
	case "qr":
		if o.Level == "L" {
			least = "M"
		}
	case "aztec":
		if n, err := strconv.Atoi(o.Level); err == nil && n < usualShare {
			least = strconv.Itoa(usualShare)
		}
	case "pdf417":
		least = f.recommended(s, c)
	}
	if least == "" {
		return
	}
	f.add("level-low", s, c.Element, Finding{Measure: say.Data(o.Level), Limit: say.Data(least),
		Detail: say.F("its error correction is level %s; %s is what %s should have", o.Level, least, c.Kind.Title), Value: 1})
}

// recommended is the level that a PDF417 should have; empty where it has it.
func (f *finder) recommended(s *sideWork, c *face.Placed) string {
	if c.Options.Level == "" {
		return ""
	}
	o := c.Options
	o.Level, o.Columns = "", 0
	usual, err := c.Kind.EncodeMatrix(s.face.Elements[c.Element].Code.Text.Expand(f.person), o)
	if err != nil || usual.Blocks[0].Check <= c.Matrix.Blocks[0].Check {
		return ""
	}
	for level := range 9 {
		if 2<<level == usual.Blocks[0].Check { // check codewords by level: ISO/IEC 15438
			return strconv.Itoa(level)
		}
	}
	return ""
}

// leastUnused is the share of the error correction that should be left over as
// printed: what is used up by print is not there for wear. It is the least for
// grade 3 (ISO/IEC 15415; see package grade).
const leastUnused = 0.5

// corrected looks for a symbol that is read by means of its error correction.
func (f *finder) corrected(s *sideWork, c *face.Placed, r *Reading) {
	if r.Quality == nil || !r.Quality.Decoded {
		return
	}
	if u, ok := r.Quality.Figure(grade.UnusedCorrection); ok && u.Value < leastUnused {
		f.add("level-low", s, c.Element, Finding{Level: Look, Reader: f.worker.pf.readers[r.Reader].Name,
			Measure: say.F("%s unused", percent(u.Value)), Limit: say.F("%s unused", percent(leastUnused)),
			Detail: say.F("only %s of its error correction is left when it is new", percent(u.Value)), Value: leastUnused - u.Value})
	}
}
