package mrz

// latin writes capital letters that a zone does not have in those that it has, as
// ICAO Doc 9303-3 6 A recommends (table read in a public transcription). Where it
// leaves a choice (Ä, Å, Ñ, Ö, Ü) the first is taken. The last row is not in the
// table as read: the Romanian letters with a comma below, which that table has
// with a cedilla, and the small sharp s, which has no capital in most fonts.
var latin = map[rune]string{
	'À': "A", 'Á': "A", 'Â': "A", 'Ã': "A", 'Ä': "AE", 'Å': "AA", 'Æ': "AE", 'Ç': "C",
	'È': "E", 'É': "E", 'Ê': "E", 'Ë': "E", 'Ì': "I", 'Í': "I", 'Î': "I", 'Ï': "I",
	'Ð': "D", 'Ñ': "N", 'Ò': "O", 'Ó': "O", 'Ô': "O", 'Õ': "O", 'Ö': "OE", 'Ø': "OE",
	'Ù': "U", 'Ú': "U", 'Û': "U", 'Ü': "UE", 'Ý': "Y", 'Þ': "TH",
	'Ā': "A", 'Ă': "A", 'Ą': "A", 'Ć': "C", 'Ĉ': "C", 'Ċ': "C", 'Č': "C", 'Ď': "D", 'Đ': "D",
	'Ē': "E", 'Ĕ': "E", 'Ė': "E", 'Ę': "E", 'Ě': "E", 'Ĝ': "G", 'Ğ': "G", 'Ġ': "G", 'Ģ': "G",
	'Ĥ': "H", 'Ħ': "H", 'Ĩ': "I", 'Ī': "I", 'Ĭ': "I", 'Į': "I", 'İ': "I", 'Ĳ': "IJ",
	'Ĵ': "J", 'Ķ': "K", 'Ĺ': "L", 'Ļ': "L", 'Ľ': "L", 'Ŀ': "L", 'Ł': "L",
	'Ń': "N", 'Ņ': "N", 'Ň': "N", 'Ŋ': "N", 'Ō': "O", 'Ŏ': "O", 'Ő': "O", 'Œ': "OE",
	'Ŕ': "R", 'Ŗ': "R", 'Ř': "R", 'Ś': "S", 'Ŝ': "S", 'Ş': "S", 'Š': "S",
	'Ţ': "T", 'Ť': "T", 'Ŧ': "T", 'Ũ': "U", 'Ū': "U", 'Ŭ': "U", 'Ů': "U", 'Ű': "U", 'Ų': "U",
	'Ŵ': "W", 'Ŷ': "Y", 'Ÿ': "Y", 'Ź': "Z", 'Ż': "Z", 'Ž': "Z", 'ẞ': "SS",
	'Ș': "S", 'Ț': "T", 'ß': "SS",
}
