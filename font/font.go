// Package font holds the fonts that every programme can use without installing
// any, in two weights: Noto Sans, which has Latin with Vietnamese, Greek, Cyrillic
// and Devanagari, Noto Sans Arabic and Noto Sans Hebrew. They are under the SIL
// Open Font License 1.1, whose text is beside them in OFL.txt.
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

// Bundled lists the fonts of one weight in the order in which a character is
// looked for.
func Bundled(bold bool) []File {
	if bold {
		return []File{
			{"Noto Sans Bold", sansBold},
			{"Noto Sans Arabic Bold", arabicBold},
			{"Noto Sans Hebrew Bold", hebrewBold},
		}
	}
	return []File{
		{"Noto Sans", sansRegular},
		{"Noto Sans Arabic", arabicRegular},
		{"Noto Sans Hebrew", hebrewRegular},
	}
}
