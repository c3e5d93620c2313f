package proof

import (
	"unspool/plane"
	"unspool/say"
	"unspool/site"
)

// Level says what a finding asks of the person who runs the cards.
type Level uint8

// Levels of a finding.
const (
	Note Level = iota // good to know
	Look              // look at it before printing
	Stop              // do not print: cards would be wasted
)

func (l Level) String() string { return [...]string{"note", "look", "stop"}[l%3] }

// Finding is one fact about a card or the run: where it is, what was measured
// against which limit, where the limit comes from, and what to do.
type Finding struct {
	ID      string // of the catalogue
	Level   Level
	Row     int    // the card's place in the run, from 0; -1 the run itself
	Card    string // the card's key; empty for the run
	Roster  bool   // it is about the roster, not about a side
	Side    site.Side
	Element string // element name; empty where none is to blame
	Reader  string // reader name; empty where it concerns none
	Where   plane.Box
	Measure say.Text // what was measured, with its unit
	Limit   say.Text // what it is held against
	Value   float64
	Detail  say.Text // one sentence: what is wrong here
	Remedy  say.Text // overrides the catalogue's
	// Shared stands for Detail, Measure and Limit where these quote the roster and
	// the reader of a page is not to know a person by it; empty where they do not.
	Shared say.Text
}

// Shown is what a page may say that is made to be shared: nothing the roster
// says of a person.
func (f Finding) Shown() (detail, measure, limit say.Text) {
	if !f.Shared.IsZero() {
		return f.Shared, say.Text{}, say.Text{}
	}
	return f.Detail, f.Measure, f.Limit
}

// Entry is one row of the catalogue: what is the same for every finding of a
// kind.
type Entry struct {
	ID     string
	Title  string
	Level  Level
	Source string // of the limit
	Remedy string
}

// Sources that several entries share.
const (
	practice   = "common practice, no source"
	fromMemory = "from memory"
	iso15416   = "ISO/IEC 15416"
	programme  = "the programme"
)

// Catalogue lists every finding Unspool makes, in the order a report shows
// them: what keeps a code from being read first.
var Catalogue = []Entry{
	{"no-carbon", "Code without carbon for an infrared reader", Stop,
		"dyes let near infrared through, carbon does not (published work on infrared and print; " + practice + " for cards)",
		"Send the code to the black resin panel: choose a black rule that takes it, or set send: resin on the element."},
	{"part-carbon", "Code only partly in resin", Stop,
		practice, "Make the bars exactly black and let one rule take all of them, or set send: resin on the element."},
	{"resin-unknown", "Black resin not known to be carbon", Stop,
		practice, "Ask the maker of the ribbon whether its black panel is carbon, or try one card at the reader; then state resin: carbon or resin: not carbon under ribbon."},
	{"resin-unproved", "Bars in a resin that cannot be vouched for", Stop,
		practice, "Send the code to the black resin panel, or try printed cards at the reader and trust those alone."},
	{"colour-vanishes", "Bars whose colour the reader's light does not see", Stop,
		"print contrast 0.75 (" + fromMemory + ", an older rule)", "Draw the bars in black and send them to resin."},
	{"decode-fails", "Code that the reader cannot decode", Stop,
		iso15416 + " reference decode", "See the other findings of this code; they name what disturbs it."},
	{"no-code", "Card that shows no code the reader takes", Look,
		programme, "Right where the person is to have none; otherwise correct the field that shows the code."},
	{"wrong-kind", "No code on the card is of a kind the reader takes", Stop,
		programme, "Use a symbology the reader is set to, or have the reader set to this one."},
	{"wrong-length", "Code of a length the reader refuses", Stop,
		programme, "Bring the number to the stated length, or correct the reader's setting."},
	{"wrong-check", "Check character is not what the reader expects", Stop,
		programme, "Set the code's check rule to the one the reader proves, or switch the reader's off."},
	{"x-below-reader", "Narrow bars below what the reader resolves", Stop,
		programme, "Give the code more room or less data, or turn it along the long edge, so that it can be drawn with more dots a bar."},
	{"off-line", "Code not on the slot reader's line", Stop,
		programme, "Move the code or make its bars taller, so that they cover the read line with its tolerance on both sides."},
	{"two-codes", "Two codes under one swipe", Look,
		practice, "Keep one code on the read line, or let the reader take only one symbology."},
	{"code-cut", "Code cut by an edge or a keep-out", Stop,
		iso15416 + ": a symbol is scanned whole, with its quiet zones", "Move the code and its quiet zones clear."},
	{"quiet-entered", "Quiet zone entered", Stop,
		"10 X each side: ISO/IEC 16388, 15417 and 16390, EN 798", "Move what enters it, or shrink or move the code."},
	{"quiet-floor", "Quiet zone below an older length floor", Note,
		"older specifications: 2.54 mm for Code 39, 6.35 mm for Interleaved 2 of 5", "Only sites whose papers ask for it need more room; the standard in force asks for 10 X."},
	{"cannot-carry", "Text that the symbology cannot carry", Stop,
		"the symbology's standard", "Correct the field, or choose a symbology that carries it."},
	{"code-too-wide", "Code too wide for its box", Stop,
		programme, "Widen the box, shorten the number, or turn the code along the long edge."},
	{"ratio-range", "Wide to narrow ratio out of range", Stop,
		"ISO/IEC 16388 and 16390, EN 798", "Choose a ratio within the range that comes out in whole dots."},
	{"x-below-head", "Narrow bar of a single dot", Look,
		practice, "Use at least two dots a narrow bar: a single dot comes and goes with heat and dust."},
	{"x-below-open", "Narrow bars below the symbology's floor for open use", Note,
		"0.19 mm for Code 39 and Interleaved 2 of 5 (published symbol specifications)", "Fine at the site's own readers; a stranger's reader may not resolve it."},
	{"x-above-most", "Narrow bars above what the symbology allows", Look,
		"0.660 mm for EAN and UPC (size guide at gs1.se)", "Choose fewer dots a bar, or leave x out and let it be chosen."},
	{"level-low", "Little error correction", Note,
		"levels: M for general use of QR Code (" + practice + "), ISO/IEC 15438 Annex E for PDF417 (read second-hand), 23 % for Aztec Code (" + fromMemory + "); unused error correction 0.5: ISO/IEC 15415", "Leave level out, or choose the stated one: a dead head element or a scratch takes a whole line of modules. Where it is used up as printed, see the code's other findings."},
	{"low-bars", "Bars too low", Look,
		"5 mm or 15 % of the width for scanning by hand: ISO/IEC 16388, 16390, EN 798", "Make the box taller."},
	{"dark-ground", "Ground too dark under the code", Look,
		"spaces reflect at least half (a published label specification)", "Leave the card white under the code and its quiet zones: backing: true."},
	{"number-differs", "Printed number unlike the coded one", Stop,
		programme, "Let text and code take the same field."},
	{"check-twice", "Second check character", Look,
		"chance of a valid digit, one in ten (calculated)", "If the number already ends in its check character, write given: true on the code."},
	{"itf-open-length", "Interleaved 2 of 5 without a fixed length", Look,
		"its start and stop also occur inside longer symbols (" + fromMemory + ")", "Fix the length at the reader."},
	{"dead-line", "Dead head element on the slot reader's line", Stop,
		practice, "Move the line or the code, or have the head replaced."},
	{"dead-bar", "Dead head element along a bar", Stop,
		practice, "Shift or turn the code so that no narrow bar lies on that element, or have the head replaced."},
	{"grade-below-least", "Predicted grade below the least", Look,
		iso15416, "See the deciding parameter and the code's other findings."},
	{"thin-margin", "Little to spare against growth", Look,
		iso15416 + "; the printer's growth as stated", "More dots a bar, a bar-width reduction of one dot, or a higher wide to narrow ratio."},
	{"margin", "How much is to spare", Note, iso15416, "Nothing to do."},
	{"element-loss", "Head elements whose loss would stop the code", Note,
		practice, "Turn the code along the feed or make its bars taller; keep the head clean."},

	{"mrz-no-carbon", "Machine readable zone without carbon", Stop,
		"legible in the near infrared, band B900 of ISO 1831: ICAO Doc 9303-3 4.11 (read in a public transcription)", "Send the zone to a black resin panel of carbon: choose a black rule that takes text, or set send: resin on the element."},
	{"mrz-check-digit", "Check digit of a machine readable zone wrong", Stop,
		"ICAO Doc 9303-3 4.9 and the tables of check digits of parts 4, 5 and 6 (read in a public transcription)", "Correct the lines where they come from, or state the fields and have the lines composed."},
	{"mrz-length", "Lines of a machine readable zone of another length", Stop,
		"ICAO Doc 9303-5, 9303-6 and 9303-4, 4.2.2 (read in a public transcription)", "Give every line whole, fillers and all, or state the fields and have the lines composed."},
	{"mrz-character", "Character that may not stand in a machine readable zone", Stop,
		"ICAO Doc 9303-3 4.3 and the data elements of parts 4, 5 and 6 (read in a public transcription)", "Correct the lines where they come from, or state the fields and have the lines composed."},
	{"mrz-refused", "Field that a machine readable zone cannot take", Stop,
		"ICAO Doc 9303-3 4.6 to 4.8 and 6 A (read in a public transcription)", "Correct the column, or add one that holds what the zone is to say."},
	{"mrz-not-ocr-b", "Machine readable zone not in OCR-B", Stop,
		"ICAO Doc 9303-3 4.4 (read in a public transcription)", "Put a font file of OCR-B into the programme folder and name it as the font of the element."},
	{"mrz-size", "Letters of a machine readable zone of another size", Look,
		"OCR-B of size 1: ICAO Doc 9303-3 4.4 (read in a public transcription); its height is of ISO 1073-2, " + fromMemory, "Leave size out, so that the letters fill their cells."},
	{"mrz-place", "Machine readable zone outside its place", Look,
		"ICAO Doc 9303-5, 9303-6 and 9303-4, 3.2 and 4.2.1 (read in a public transcription)", "Move the zone; docs/programme.md shows the box of one that lies right."},
	{"mrz-ground", "Machine readable zone disturbed by what lies over or behind it", Look,
		"print contrast signal 0.6 at B900: ICAO Doc 9303-3 4.11 (read in a public transcription); the rest own judgement", "Keep photos, dark ground and other black clear of the zone, and lay the zone on top."},

	{"photo-in-resin", "Photo printed in resin", Stop,
		practice, "Use a rule that leaves pictures to the dyes: objects, or zones drawn round code and text; or lift the photo off exact black."},
	{"picture-in-resin", "Artwork printed in resin", Look,
		practice, "As for photos; line art meant for resin is better drawn as shapes."},
	{"text-in-dye", "Black text printed in dye", Look,
		practice, "Let the black rule take text, or set send: resin: dye text has soft grey edges and fades sooner."},
	{"nothing-in-resin", "Nothing printed in resin", Look,
		practice, "If code or text was meant for resin, the black rule does not take it."},
	{"colours-out", "Colours out of the dyes' reach", Note,
		"CIEDE2000 against the page, media relative", "Choose less saturated colours in the artwork where it matters."},
	{"back-no-resin", "Black on a side without a resin panel", Stop,
		programme, "Use a ribbon with a second K for the back (YMCKOK), or print the back from a set of its own."},
	{"no-panel", "Element sent to a panel the ribbon lacks", Stop,
		programme, "Use a ribbon that has the panel, or send the element elsewhere."},
	{"beyond-short", "Colour beyond a short panel", Stop,
		programme, "Move the element within the colour panels' window, print it from resin, or use full panels."},
	{"on-keepout", "Element over a keep-out", Look,
		"ISO/IEC 7816-2 and 7811 positions (" + fromMemory + "); " + practice, "Move the element clear of it."},
	{"off-face", "Element beyond what can be printed", Look,
		programme, "Move the element inwards by the stated length."},

	{"photo-missing", "Photo missing", Stop, programme, "Bring the file, or correct its name in the roster."},
	{"photo-unreadable", "Photo cannot be read", Stop, programme, "Put a whole picture file into the photo folder: export it again as JPEG or PNG."},
	{"photo-tiny", "Photo with too few pixels", Look,
		practice, "Take the photo again, or from its original; less than half a pixel a dot prints as a blur."},
	{"photo-upscaled", "Photo enlarged", Note, practice, "A larger original prints sharper."},
	{"colour-assumed", "Colours taken for sRGB", Note, programme, "Save the picture with an sRGB profile."},
	{"font-failed", "Font that could not set a text", Look, programme, "Use another font file; this one is damaged or not what it says."},
	{"text-cut", "Text that does not fit", Stop, programme, "Enlarge the box, lower the floor, or allow the text to wrap."},
	{"text-shrunk", "Text set smaller to fit", Note, programme, "Widen the box if all cards must look alike."},
	{"glyph-missing", "Characters that no font has", Stop, programme, "Name a font that has them, or install one for the script."},

	{"key-missing", "Row without a key", Stop, programme, "Fill in the key column."},
	{"key-twice", "Key used twice", Stop, programme, "One card a key: correct or remove one of the rows."},
	{"key-spaced", "Key with a space round it", Look, programme, "Take the space out of the roster."},
	{"letters-lost", "Letters lost", Look, programme, "Save the roster as CSV in UTF-8, or as XLSX, from the program that still has the letters, and prove again."},
	{"zeros-lost", "Leading zeros lost", Look, programme, "Format the column as text in the spreadsheet and export again."},
}

var entries = func() map[string]*Entry {
	m := make(map[string]*Entry, len(Catalogue))
	for i := range Catalogue {
		m[Catalogue[i].ID] = &Catalogue[i]
	}
	return m
}()

// About is the catalogue's entry for an ID; the zero Entry where there is none.
func About(id string) Entry {
	if e := entries[id]; e != nil {
		return *e
	}
	return Entry{}
}

// Advise is the finding's own remedy or, where it has none, its entry's.
func (f Finding) Advise() say.Text {
	if !f.Remedy.IsZero() {
		return f.Remedy
	}
	return say.Words(About(f.ID).Remedy)
}
