package site

import "unspool/unit"

// PanelKind says what a panel of the ribbon lays down.
type PanelKind uint8

// Kinds of panel.
const (
	Yellow      PanelKind = iota // dye
	Magenta                      // dye
	Cyan                         // dye
	BlackResin                   // K
	Overlay                      // clear overlay, O or T
	Fluorescent                  // F: unseen until lit by ultraviolet
	Metallic                     // S silver, G gold
	WhiteResin                   // W
	ColourResin                  // a resin of a stated colour
)

// Dye says whether the panel is one of the three dyes.
func (k PanelKind) Dye() bool { return k <= Cyan }

// Resin says whether the panel lays down solid resin that marks a card.
func (k PanelKind) Resin() bool {
	return k == BlackResin || k == Metallic || k == WhiteResin || k == ColourResin
}

// Panel is one colour length of the web.
type Panel struct {
	Letter byte
	Kind   PanelKind
	Name   string   // "black resin", or the programme's own name for it
	Colour [3]uint8 // sRGB of a solid patch, for ColourResin and Metallic
}

// Carbon says whether the ribbon's black resin is pigmented with carbon.
type Carbon uint8

// What is known of the black resin.
const (
	CarbonUnknown Carbon = iota
	CarbonYes
	CarbonNo
)

func (c Carbon) String() string { return [...]string{"unknown", "carbon", "not carbon"}[c%3] }

// Ribbon is one kind of ribbon.
type Ribbon struct {
	Panels []Panel // one set, in the order of feeding
	Carbon Carbon
	// BackAgain: the back is printed from a whole set of its own. Otherwise it is
	// printed from the tail of the set; see Set.
	BackAgain bool
	// Short colour panels reach only from ShortFrom to ShortTo, measured from the
	// edge of the card that leads; both 0 where the panels are full.
	ShortFrom, ShortTo unit.Length
	Pitch              unit.Length // length of web one panel takes
	Yield              int         // panel sets on a roll; 0 unknown
	Price              int64       // of a roll, in hundredths of Currency; 0 unknown
	Currency           string
	Ink                Ink
}

// Ink says which dyes the ribbon carries.
type Ink struct {
	Preset string   // "usual" or "cautious"; empty when Table is used
	Table  []InkRow // the user's own dye table
}

// InkRow is one row of a dye table: reflection density of each full panel over
// bare card at one wavelength, and the reflectance of bare card.
type InkRow struct {
	NM      unit.Nanometres
	Y, M, C float64 // density at full amount, 0 or more
	K       float64 // density of the resin
	White   float64 // reflectance of bare card, 0 to 1; 0 takes the preset's
}

// Set is the panels that print a side, in the order of feeding. The back is
// printed from what follows the first letter that comes a second time (YMCKOK:
// front YMCKO, back K; YMCKK: front YMCK, back K), or from the whole set again.
func (r Ribbon) Set(s Side) []Panel {
	cut := r.Tail()
	switch {
	case r.BackAgain:
		return r.Panels
	case s == Front:
		return r.Panels[:cut]
	}
	return r.Panels[cut:]
}

// Tail is the index of the first panel whose letter has come before in the set:
// where the back's panels begin. It is len(Panels) where no letter repeats.
func (r Ribbon) Tail() int {
	for i, p := range r.Panels {
		for _, q := range r.Panels[:i] {
			if p.Letter == q.Letter {
				return i
			}
		}
	}
	return len(r.Panels)
}

// Has says whether the panels hold one of kind k.
func Has(panels []Panel, k PanelKind) bool {
	for _, p := range panels {
		if p.Kind == k {
			return true
		}
	}
	return false
}

// Letters writes panels as the trade does: "YMCKO".
func Letters(panels []Panel) string {
	b := make([]byte, len(panels))
	for i, p := range panels {
		b[i] = p.Letter
	}
	return string(b)
}
