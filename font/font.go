// Package font holds the fonts that every programme can use without installing
// any: Noto Sans for Latin, Vietnamese, Greek and Cyrillic, Arabic, Hebrew and
// Devanagari, in two weights. They are under the SIL Open Font License 1.1, whose
// text is beside them in OFL.txt.
package font

import _ "embed"

// File is one font file, TrueType.
type File struct {
	Name string // "Noto Sans Arabic Bold"
	Data []byte // must not be changed
}

//go:embed NotoSans-Regular.ttf
var sansRegular []byte

//go:embed NotoSans-Bold.ttf
var sansBold []byte

//go:embed NotoSansArabic-Regular.ttf
var arabicRegular []byte

//go:embed NotoSansArabic-Bold.ttf
var arabicBold []byte

//go:embed NotoSansHebrew-Regular.ttf
var hebrewRegular []byte

//go:embed NotoSansHebrew-Bold.ttf
var hebrewBold []byte

//go:embed NotoSansDevanagari-Regular.ttf
var devanagariRegular []byte

//go:embed NotoSansDevanagari-Bold.ttf
var devanagariBold []byte

// Bundled lists the fonts of one weight in the order in which a character is
// looked for.
func Bundled(bold bool) []File {
	if bold {
		return []File{
			{"Noto Sans Bold", sansBold},
			{"Noto Sans Arabic Bold", arabicBold},
			{"Noto Sans Hebrew Bold", hebrewBold},
			{"Noto Sans Devanagari Bold", devanagariBold},
		}
	}
	return []File{
		{"Noto Sans", sansRegular},
		{"Noto Sans Arabic", arabicRegular},
		{"Noto Sans Hebrew", hebrewRegular},
		{"Noto Sans Devanagari", devanagariRegular},
	}
}
