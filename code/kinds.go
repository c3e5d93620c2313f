package code

import (
	"math"
	"slices"

	"unspool/symbol"
	"unspool/symbol/aztec"
	"unspool/symbol/code128"
	"unspool/symbol/code93"
	"unspool/symbol/datamatrix"
	"unspool/symbol/ean"
	"unspool/symbol/gs1128"
	"unspool/symbol/pdf417"
	"unspool/symbol/qr"
	"unspool/unit"
)

// All is every symbology, in a fixed order, the linear ones first.
func All() []Kind { return slices.Clone(kinds) }

// Linear is every linear symbology, in the order of All.
func Linear() []Kind {
	return slices.DeleteFunc(All(), func(k Kind) bool { return !k.Family.Linear() })
}

// ByName finds a symbology by its Name.
func ByName(name string) (Kind, bool) {
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Carries says whether a symbology can carry a text without further options.
func (k Kind) Carries(text string) bool {
	var err error
	if k.Family.Linear() {
		_, err = k.Encode(text, Options{})
	} else {
		_, err = k.EncodeMatrix(text, Options{})
	}
	return err == nil
}

// kinds is the table. Where a figure has no other source beside it, it comes
// from the comments of the open-source encoder zint, which cite the standards by
// clause.
var kinds = []Kind{
	{
		// ISO/IEC 16388:2007 4.4 d (quiet zone) and e (height, width without quiet
		// zones). The older floor, MinX for open systems and the ratios of 2.0 to 3.0
		// from X 0.508 mm on: barcode4j's Code 39 page. That page has 2.0 to 2.2 below
		// 0.508 mm, which looks like a misprint of its Interleaved 2 of 5 page; that
		// the ratio must be above 2.2 there is from memory.
		Name: "code39", Title: "Code 39", Family: symbol.TwoWidth, HasGap: true,
		Checks: []Check{Mod43},
		Encode: encode39, Decode: decode39,
		QuietX: 10, QuietFloor: unit.Micrometres(2540),
		MinRatio: above22, MaxRatio: 3,
		MinX: unit.Micrometres(190), MinHeight: fiveOrFifteenPercent,
	},
	{
		// ISO/IEC 15417:2007 4.4.2 (quiet zone). X and height are left to the
		// application; the height here is that of the other symbologies (common
		// practice, no source).
		Name: "code128", Title: "Code 128", Family: symbol.Modular,
		Encode: plain("Code 128", code128.Encode), Decode: unasked(code128.Decode),
		QuietX:   10,
		MinRatio: noRatio, MinHeight: fiveOrFifteenPercent,
	},
	{
		// ISO/IEC 16390:2007 4.4 (quiet zone, height). The older floor, both ratios and
		// MinX: barcode4j's Interleaved 2 of 5 page.
		Name: "itf", Title: "Interleaved 2 of 5", Family: symbol.TwoWidth,
		Checks: []Check{Mod10, Luhn},
		Encode: encodeITF, Decode: decodeITF,
		QuietX: 10, QuietFloor: unit.Micrometres(6350),
		MinRatio: above22, MaxRatio: 3,
		MinX: unit.Micrometres(190), MinHeight: fiveOrFifteenPercent,
	},
	{
		// EN 798:1995 4.4.1 d (quiet zone) and its height rule, which counts the quiet
		// zones. Ratios: handwiki.org, Codabar; 2.0 is allowed at large X too (from
		// memory), which is not used here as the limit was not found. EN 798 D.1 gives X
		// only as an example.
		Name: "codabar", Title: "Codabar", Family: symbol.TwoWidth, HasGap: true,
		Checks: []Check{Mod16, Luhn},
		Encode: encodeCodabar, Decode: decodeCodabar,
		QuietX:   10,
		MinRatio: func(unit.Length) float64 { return 2.25 }, MaxRatio: 3,
		MinHeight: fiveOrFifteenPercent, HeightWithQuiet: true,
	},
	{
		// ANSI/AIM BC5-1995 2.4 (quiet zone) and 2.6 (height: 0.2 in or 15 % of the
		// width with quiet zones). It gives no least X.
		Name: "code93", Title: "Code 93", Family: symbol.Modular,
		Encode: plain("Code 93", code93.Encode), Decode: unasked(code93.Decode),
		QuietX:   10,
		MinRatio: noRatio, HeightWithQuiet: true,
		MinHeight: func(width unit.Length) unit.Length { return max(unit.Inch/5, width*15/100) },
	},
	{
		// MinX is that of regulated healthcare, the smallest that GS1 allows anywhere
		// (GS1 table 6 as quoted at elsmar.com); general distribution has 0.495 mm
		// (size guide at gs1.se). The rest as Code 128.
		Name: "gs1-128", Title: "GS1-128", Family: symbol.Modular,
		Encode: plain("GS1-128", gs1128.Encode), Decode: unasked(gs1128.Decode),
		QuietX:   10,
		MinRatio: noRatio, MinX: unit.Micrometres(170), MinHeight: fiveOrFifteenPercent,
	},
	{
		// As Code 128. The standard's own X and height were not found.
		Name: "isbt128", Title: "ISBT 128", Family: symbol.Modular,
		Checks: []Check{Mod37},
		Encode: encodeISBT, Decode: decodeISBT,
		QuietX:   10,
		MinRatio: noRatio, MinHeight: fiveOrFifteenPercent,
	},
	retailKind("ean13", "EAN-13", ean.Encode13, ean.Decode13, [2]int{11, 7}, 22850, 95),
	retailKind("ean8", "EAN-8", ean.Encode8, ean.Decode8, [2]int{7, 7}, 18230, 67),
	retailKind("upca", "UPC-A", ean.EncodeA, ean.DecodeA, [2]int{9, 9}, 22850, 95),
	retailKind("upce", "UPC-E", ean.EncodeE, ean.DecodeE, [2]int{9, 7}, 22850, 51),
	{
		// ISO/IEC 18004 9.1 (quiet zone).
		Name: "qr", Title: "QR Code", Family: symbol.Square,
		EncodeMatrix: encodeQR, DecodeMatrix: qr.Decode,
		QuietX: 4, RowX: 1,
	},
	{
		// ISO/IEC 16022 7.1 (quiet zone).
		Name: "datamatrix", Title: "Data Matrix", Family: symbol.Square,
		EncodeMatrix: encodeDataMatrix, DecodeMatrix: datamatrix.Decode,
		QuietX: 1, RowX: 1,
	},
	{
		// ISO/IEC 24778 asks for no quiet zone (from memory).
		Name: "aztec", Title: "Aztec Code", Family: symbol.Square,
		EncodeMatrix: encodeAztec, DecodeMatrix: aztec.Decode,
		QuietX: 0, RowX: 1,
	},
	{
		// ISO/IEC 15438 5.8.2 (height of a row) and 5.8.3 (quiet zone).
		Name: "pdf417", Title: "PDF417", Family: symbol.MultiRow,
		EncodeMatrix: encodePDF417, DecodeMatrix: pdf417.Decode,
		QuietX: 2, RowX: 3,
	},
}

// retailKind is a row of EAN and UPC: its quiet zones, the height of its bars in
// micrometres at X 0.33 mm, to which X and height are in proportion, and its
// modules. X is 0.264 to 0.660 mm. All from the size guide at gs1.se; the heights
// are in zint too.
func retailKind(name, title string, encode func(string, ean.Options) (symbol.Logical, error),
	decode func([]float64) (symbol.Reading, error), quiet [2]int, height, modules int) Kind {
	return Kind{
		Name: name, Title: title, Family: symbol.Modular,
		Checks: []Check{Mod10}, Always: Mod10,
		Encode: retail(title, encode), Decode: proved(decode),
		QuietX: quiet[0], QuietEnd: quiet[1],
		MinRatio: noRatio, MinX: unit.Micrometres(264), MaxX: unit.Micrometres(660),
		MinHeight: func(width unit.Length) unit.Length {
			return width * unit.Length(height) / unit.Length(330*modules)
		},
	}
}

// noRatio is the least ratio of modular symbologies.
func noRatio(unit.Length) float64 { return 0 }

// above22 is the least ratio of Code 39 and Interleaved 2 of 5: 2.0, but more
// than 2.2 where X is below 0.508 mm (20 mil). The least number beyond 2.2 says
// "more than" to a comparison that allows the limit itself.
func above22(x unit.Length) float64 {
	if x < unit.Micrometres(508) {
		return math.Nextafter(2.2, 3)
	}
	return 2
}

// fiveOrFifteenPercent is the larger of 5 mm and 15 % of the width, which ISO/IEC
// 16388, 16390 and EN 798 recommend for scanning by hand.
func fiveOrFifteenPercent(width unit.Length) unit.Length {
	return max(5*unit.Millimetre, width*15/100)
}
