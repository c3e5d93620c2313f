package portrait

// Hair is a colour of hair.
type Hair uint8

// The colours of hair, darkest first.
const (
	Black Hair = iota
	DarkBrown
	Brown
	Red
	Blond
	Grey
	hairColours
)

// Style is the way hair is worn.
type Style uint8

// The styles of hair. Scarf covers all of it with a headscarf.
const (
	Short    Style = iota // side parting, cut over the ears
	Crop                  // clipped to a few millimetres
	Curly                 // short loose curls
	Afro                  // a round crown of tight coils
	Receding              // short, with a high hairline
	Bald                  // short sides, bare crown
	Bun                   // drawn back from the face
	Bob                   // parted, to the jaw
	Long                  // parted, over the shoulders
	Scarf
	styles
)

// Beard is the way hair of the face is worn.
type Beard uint8

// The beards, by rising length.
const (
	Shaven Beard = iota
	Stubble
	Moustache
	FullBeard
	beards
)

// Person describes an invented sitter. The zero value is a valid person.
type Person struct {
	Seed    uint64  // everything the other fields leave open
	Woman   bool    // proportions and clothes
	Age     int     // years; taken as 18 to 75
	Skin    float64 // 0 very light to 1 very dark
	Hair    Hair
	Style   Style
	Beard   Beard
	Glasses bool
}

// valid brings every field into its range.
func (p Person) valid() Person {
	p.Age = min(max(p.Age, 18), 75)
	if !(p.Skin >= 0) { // NaN too
		p.Skin = 0
	}
	p.Skin = min(p.Skin, 1)
	if p.Hair >= hairColours {
		p.Hair = Black
	}
	if p.Style >= styles {
		p.Style = Short
	}
	if p.Beard >= beards {
		p.Beard = Shaven
	}
	return p
}
