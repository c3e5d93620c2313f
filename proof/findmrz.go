package proof

import (
	"strings"

	"unspool/face"
	"unspool/mrz"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// zone looks at a machine readable zone.
func (f *finder) zone(s *sideWork, z *face.SetZone) {
	f.mrzLines(s, z)
	if z.Dots == 0 {
		return
	}
	f.mrzLetters(s, z)
	f.mrzPlace(s, z)
	f.mrzInk(s, z)
	f.mrzGround(s, z)
}

// mrzLines proves what a zone says. Of characters that may not stand where they
// do the first is told.
func (f *finder) mrzLines(s *sideWork, z *face.SetZone) {
	faults := mrz.Prove(z.Format, z.Lines)
	for i, x := range faults {
		switch x.Kind {
		case mrz.Length:
			f.mrzLength(s, z, x)
		case mrz.Character:
			if i == 0 {
				f.add("mrz-character", s, z.Element, Finding{Where: z.Cell(x.Line, x.Column), Measure: say.F("%d characters", len(faults)), Limit: takenBy(x.Want),
					Detail: say.F("character %d of line %d is %q, and the %s takes %s", x.Column, x.Line, x.Got, x.Field, takenBy(x.Want)),
					Shared: say.F("a character of line %d may not stand there", x.Line), Value: float64(len(faults))})
			}
		case mrz.Digit:
			f.add("mrz-check-digit", s, z.Element, Finding{Where: z.Cell(x.Line, x.Column), Measure: say.Data(x.Got), Limit: say.Data(x.Want),
				Detail: say.F("the check digit of the %s is %s; it should be %s", x.Field, x.Got, x.Want),
				Shared: say.F("the check digit of the %s is wrong", x.Field), Value: 1})
		}
	}
}

func (f *finder) mrzLength(s *sideWork, z *face.SetZone, x mrz.Fault) {
	if x.Line == 0 {
		f.add("mrz-length", s, z.Element, Finding{Measure: say.F("%d lines", x.Have), Limit: say.F("%d lines", x.Need),
			Detail: say.F("it has %d lines; a %s has %d", x.Have, nameOf(z.Format), x.Need), Value: 1})
		return
	}
	f.add("mrz-length", s, z.Element, Finding{Measure: say.F("%d characters", x.Have), Limit: say.F("%d characters", x.Need),
		Detail: say.F("line %d has %d characters; of a %s every line has %d", x.Line, x.Have, nameOf(z.Format), x.Need), Value: 1})
}

// nameOf is a format's name as documents have it.
func nameOf(f mrz.Format) string { return strings.ToUpper(f.String()) }

// takenBy says which characters a field takes.
func takenBy(want string) say.Text {
	digits, letters, filler := strings.Contains(want, "0"), strings.Contains(want, "A"), strings.Contains(want, "<")
	switch {
	case digits && letters:
		return say.Words("capital letters, digits and <")
	case letters:
		return say.Words("capital letters and <")
	case digits && filler:
		return say.Words("digits and <")
	case digits:
		return say.Words("digits")
	}
	return say.Words("F, M and <")
}

// The height of a digit of OCR-B of size 1, strokes and all: 2.40 mm between the
// middles of strokes 0.35 mm wide (ISO 1073-2, from memory). How far a font may lie
// off is own judgement.
const (
	digitHeight    = 275 * unit.Millimetre / 100
	digitTolerance = unit.Millimetre / 5
)

// mrzLetters looks at the letters' shape and size.
func (f *finder) mrzLetters(s *sideWork, z *face.SetZone) {
	bare := strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToUpper(z.Family))
	if !strings.Contains(bare, "OCRB") {
		f.add("mrz-not-ocr-b", s, z.Element, Finding{Measure: say.Data(z.Family), Limit: say.Data("OCR-B"),
			Detail: say.F("it is set in %q, and readers of travel documents know the letters of OCR-B", z.Family), Value: 1})
		return
	}
	if off := max(z.Digit-digitHeight, digitHeight-z.Digit); off > digitTolerance {
		f.add("mrz-size", s, z.Element, Finding{Measure: say.F("%.2f mm", z.Digit.MM()), Limit: say.F("%.2f mm", digitHeight.MM()),
			Detail: say.F("its digits are %.2f mm high; those of OCR-B of size 1, ten to the inch, are %.2f mm", z.Digit.MM(), digitHeight.MM()), Value: off.MM()})
	}
}

// mrzPlaces is where a zone lies on its document: ICAO Doc 9303-5, 9303-6 and
// 9303-4, 3.2 and 4.2.1 with figures 6 and 7 (read in a public transcription), sizes
// of cards by ISO/IEC 7810. That no line lies in the last 2 mm is read of a TD3 and
// taken for the others.
var mrzPlaces = [...]struct {
	w, h unit.Length
	side site.Side
	left unit.Length // of the first character, 1 mm more or less
	zone unit.Length // height of the zone, from the bottom edge
}{
	mrz.TD1: {unit.MM(85.6), unit.MM(53.98), site.Back, unit.MM(5), unit.MM(23.3)},
	mrz.TD2: {unit.MM(105), unit.MM(74), site.Front, unit.MM(4), unit.MM(23.2)},
	mrz.TD3: {unit.MM(125), unit.MM(88), site.Front, unit.MM(6), unit.MM(23.2)},
}

const (
	mrzLeft   = unit.Millimetre         // tolerance of the first character
	mrzMargin = 2 * unit.Millimetre     // at the bottom edge
	mrzHigh   = 17 * unit.Millimetre    // the effective reading zone, Doc 9303-3 4.5
	mrzCard   = 3 * unit.Millimetre / 4 // tolerance of the document's size
)

// mrzPlace looks at where a zone lies.
func (f *finder) mrzPlace(s *sideWork, z *face.SetZone) {
	at, g := mrzPlaces[z.Format], s.setup.Grid()
	is := func(measure, limit, detail say.Text, value unit.Length) {
		f.add("mrz-place", s, z.Element, Finding{Measure: measure, Limit: limit, Detail: detail, Value: value.MM()})
	}
	if off := max(s.card.W-at.w, at.w-s.card.W, s.card.H-at.h, at.h-s.card.H); off > mrzCard {
		is(say.F("%s by %s", s.card.W, s.card.H), say.F("%s by %s", at.w, at.h),
			say.F("the card is %s by %s; a %s is %s by %s", s.card.W, s.card.H, nameOf(z.Format), at.w, at.h), off)
		return
	}
	if s.Side != at.side {
		is(say.F("%s", s.Side), say.F("%s", at.side), say.F("it lies on the %s; a %s has it on the %s", s.Side, nameOf(z.Format), at.side), 1)
	}
	if left := g.DX.Span(z.Ink.X0); max(left-at.left, at.left-left) > mrzLeft {
		is(say.F("%.1f mm", left.MM()), say.F("%.1f to %.1f mm", (at.left-mrzLeft).MM(), (at.left+mrzLeft).MM()),
			say.F("its first character begins %.1f mm from the left edge; a %s has it %.1f to %.1f mm from there",
				left.MM(), nameOf(z.Format), (at.left-mrzLeft).MM(), (at.left+mrzLeft).MM()), max(left-at.left, at.left-left))
	}
	top, bottom := s.card.H-g.DY.Span(z.Ink.Y0), s.card.H-g.DY.Span(z.Ink.Y1)
	if over := max(top-at.zone, mrzMargin-bottom); over > 0 {
		is(say.F("%.1f to %.1f mm", bottom.MM(), top.MM()), say.F("%.1f to %.1f mm", mrzMargin.MM(), at.zone.MM()),
			say.F("its lines lie %.1f to %.1f mm from the bottom edge; the zone of a %s is %.1f to %.1f mm from there",
				bottom.MM(), top.MM(), nameOf(z.Format), mrzMargin.MM(), at.zone.MM()), over)
	}
	if high := top - bottom; high > mrzHigh {
		is(say.F("%.1f mm", high.MM()), say.F("%.1f mm", mrzHigh.MM()),
			say.F("its lines are %.1f mm high together; readers look at %.1f mm", high.MM(), mrzHigh.MM()), high-mrzHigh)
	}
}
