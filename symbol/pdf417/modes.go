package pdf417

// Function codewords of ISO/IEC 15438 5.4 (values from memory, held against zint
// and zxing-cpp, but for those marked).
const (
	toText      = 900 // latch to text compaction; also fills a symbol up
	toBytes     = 901 // latch to byte compaction
	toNumbers   = 902 // latch to numeric compaction
	oneByte     = 913 // the next codeword is a byte
	fileMarker  = 922 // last part of a Macro PDF417 set (not held)
	fileField   = 923 // field of a Macro PDF417 set (not held)
	toSixes     = 924 // latch to byte compaction of a multiple of six bytes
	eciUser     = 925 // user-defined ECI: one codeword follows (not held)
	eciGeneral  = 926 // ECI of 900 and more: two codewords follow
	eciSet      = 927 // ECI of up to 899: one codeword follows
	fileBlock   = 928 // part of a Macro PDF417 set (not held)
	firstLatch  = toText
	codesPerSix = 5  // codewords for six bytes
	numberCodes = 15 // codewords for a full group of digits
	numberGroup = 44 // digits in it
	radix       = 900
)

// The sub-modes of text compaction.
const (
	alpha = iota
	lower
	mixed
	punct
	subModes
)

// What the last values of a sub-mode do: latch to another, or shift for one
// character.
const (
	latchAlpha = 0x80 + iota
	latchLower
	latchMixed
	latchPunct
	shiftAlpha
	shiftPunct
)

const (
	textValues = 30
	textPad    = 29
)

// subMode is the meaning of the 30 values in each sub-mode, ISO/IEC 15438 Table
// 5 (from memory, held against zint and zxing-cpp).
var subMode = [subModes]string{
	alpha: "ABCDEFGHIJKLMNOPQRSTUVWXYZ " + does(latchLower, latchMixed, shiftPunct),
	lower: "abcdefghijklmnopqrstuvwxyz " + does(shiftAlpha, latchMixed, shiftPunct),
	mixed: "0123456789&\r\t,:#-.$/+%*=^" + does(latchPunct) + " " + does(latchLower, latchAlpha, shiftPunct),
	punct: ";<>@[\\]_`~!\r\t,:\n-.$/\"|*()?{}'" + does(latchAlpha),
}

func does(b ...byte) string { return string(b) }

// valueIn is the value of an ASCII character in a sub-mode, or -1.
func valueIn(sub int, c byte) int { return int(values[sub][c]) }

var values = func() (v [subModes][256]int8) {
	for sub := range v {
		for c := range v[sub] {
			v[sub][c] = -1
		}
		for i, c := range []byte(subMode[sub]) {
			if c < latchAlpha {
				v[sub][c] = int8(i)
			}
		}
	}
	return v
}()

// change is a value that latches or shifts to another sub-mode.
type change struct {
	value int8
	to    int
}

// latches and shifts are what leads out of each sub-mode.
var latches, shifts = func() (l, s [subModes][]change) {
	for sub := range subMode {
		for i, c := range []byte(subMode[sub]) {
			switch {
			case c >= latchAlpha && c <= latchPunct:
				l[sub] = append(l[sub], change{int8(i), int(c - latchAlpha)})
			case c == shiftAlpha:
				s[sub] = append(s[sub], change{int8(i), alpha})
			case c == shiftPunct:
				s[sub] = append(s[sub], change{int8(i), punct})
			}
		}
	}
	return l, s
}()
