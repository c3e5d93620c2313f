package design

import (
	"strconv"
	"strings"

	"unspool/site"
	"unspool/unit"
)

// usualRoom is how much longer than the card a panel is taken to be where the
// programme does not state the pitch. From memory.
const usualRoom = 5 * mm

// known are the panels that every ribbon may have, by letter (common practice, no
// source). Their colours are for pictures of the web and no measurement.
var known = map[byte]site.Panel{
	'Y': {Letter: 'Y', Kind: site.Yellow, Name: "yellow dye"},
	'M': {Letter: 'M', Kind: site.Magenta, Name: "magenta dye"},
	'C': {Letter: 'C', Kind: site.Cyan, Name: "cyan dye"},
	'K': {Letter: 'K', Kind: site.BlackResin, Name: "black resin"},
	'O': {Letter: 'O', Kind: site.Overlay, Name: "clear overlay"},
	'T': {Letter: 'T', Kind: site.Overlay, Name: "clear overlay"},
	'F': {Letter: 'F', Kind: site.Fluorescent, Name: "fluorescent"},
	'S': {Letter: 'S', Kind: site.Metallic, Name: "silver", Colour: [3]uint8{0xb4, 0xb6, 0xb8}},
	'G': {Letter: 'G', Kind: site.Metallic, Name: "gold", Colour: [3]uint8{0xb8, 0x96, 0x46}},
	'W': {Letter: 'W', Kind: site.WhiteResin, Name: "white resin", Colour: [3]uint8{255, 255, 255}},
}

// ribbonStated is what of the ribbon can only be settled when all is read.
type ribbonStated struct {
	value
	letters value
	inks    map[byte]site.Panel
	back    *bool // true: the whole set again
	short   value
	resin   bool
	pitch   bool
}

// ribbon reads the section ribbon.
func (p *reading) ribbon(v value) {
	r, st := &p.out.Ribbon, &p.ribbonSaid
	st.value = v
	var again bool
	g := v.keys("ribbon",
		key{"panels", func(v value) { st.letters = v }},
		key{"resin", intoChoice(&r.Carbon, choice[site.Carbon]{"carbon", site.CarbonYes},
			choice[site.Carbon]{"not carbon", site.CarbonNo}, choice[site.Carbon]{"unknown", site.CarbonUnknown})},
		key{"back", intoChoice(&again, choice[bool]{"tail", false}, choice[bool]{"again", true})},
		key{"short", p.short},
		key{"pitch", intoLength(&r.Pitch, minCard, 2*maxCard)},
		key{"yield", intoWhole(&r.Yield, 1, 100_000)},
		key{"price", p.price},
		key{"ink", p.ink},
		key{"inks", p.inks})
	g.need("panels", "YMCKO")
	if g.has("back") {
		st.back = &again
	}
	st.resin, st.pitch = g.has("resin"), g.has("pitch")
}

// short reads the window of short colour panels.
func (p *reading) short(v value) {
	r := &p.out.Ribbon
	g := v.keys("short", key{"from", intoLength(&r.ShortFrom, 0, maxCard)}, key{"to", intoLength(&r.ShortTo, mm, maxCard)})
	g.need("to", "42")
	p.ribbonSaid.short = v
}

// price reads "78.50 EUR".
func (p *reading) price(v value) {
	amount, currency, _ := strings.Cut(strings.TrimSpace(v.text), " ")
	whole, cents, _ := strings.Cut(amount, ".")
	if cents == "" {
		cents = "00"
	}
	n, err := strconv.ParseUint(whole+cents, 10, 32)
	capitals := strings.Trim(currency, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
	if v.kind == list || v.kind == object || err != nil || whole == "" || len(cents) != 2 || len(currency) != 3 || !capitals {
		v.wrong("a price", "an amount and the letters of its currency such as 78.50 EUR")
		return
	}
	p.out.Ribbon.Price, p.out.Ribbon.Currency = int64(n), currency
}

// ink reads which dyes the ribbon carries: a preset or a table.
func (p *reading) ink(v value) {
	to := &p.out.Ribbon.Ink
	if v.kind != object {
		intoChoice(&to.Preset, choice[string]{"usual", "usual"}, choice[string]{"cautious", "cautious"})(v)
		return
	}
	to.Preset = ""
	g := v.keys("ink", key{"table", p.inkTable})
	g.need("table", "[[400, 0.9, 0.4, 0.2, 2.4], ...]")
}

// inkTable reads rows of [nm, Y, M, C, K] or [nm, Y, M, C, K, white].
func (p *reading) inkTable(v value) {
	const example = "[nm, Y, M, C, K] or [nm, Y, M, C, K, white]"
	last := unit.Nanometres(0)
	v.each(700, "rows of "+example, func(_ int, row value) {
		if row.kind != list || len(row.items) != 5 && len(row.items) != 6 {
			row.wrong("a row of the ink table", example)
			return
		}
		var r site.InkRow
		read := [...]func(value){
			intoNM(&r.NM, unit.FirstNM, unit.LastNM), intoDecimal(&r.Y, 0, 6), intoDecimal(&r.M, 0, 6),
			intoDecimal(&r.C, 0, 6), intoDecimal(&r.K, 0, 6), intoDecimal(&r.White, 0, 1),
		}
		row.each(6, example, func(i int, item value) { read[i](item) })
		if r.NM > 0 && r.NM <= last {
			row.fault("comes after %s; write the rows by rising wavelength", last)
		}
		last = max(last, r.NM)
		p.out.Ribbon.Ink.Table = append(p.out.Ribbon.Ink.Table, r)
	})
	if v.kind == list && len(v.items) < 2 {
		v.fault("has %d rows; write at least two", len(v.items))
	}
}

// inks reads resins of the site's own: {B: {name: blue resin, colour: "#1b3a8a"}}.
func (p *reading) inks(v value) {
	own := map[byte]site.Panel{}
	p.ribbonSaid.inks = own
	if v.kind != object {
		v.wrong("a group of keys", `a letter with a name and a colour: B: {name: blue resin, colour: "#1b3a8a"}`)
		return
	}
	for _, pair := range v.pairs {
		item := v.under(pair)
		letter := byte(0)
		if len(pair.name) == 1 {
			letter = pair.name[0]
		}
		_, taken := known[letter]
		_, again := own[letter]
		if letter < 'A' || letter > 'Z' || taken || again {
			item.fault("cannot be a panel of your own; write a capital letter other than Y M C K O T F S G W, once")
			continue
		}
		panel := site.Panel{Letter: letter, Kind: site.ColourResin}
		g := item.keys("a resin", key{"name", intoLabel(&panel.Name)}, key{"colour", intoColour(&panel.Colour)})
		g.need("name", "blue resin")
		g.need("colour", `"#1b3a8a"`)
		own[letter] = panel
	}
}

// settleRibbon works out the panels and what each side is printed from.
func (p *reading) settleRibbon() {
	r, st := &p.out.Ribbon, &p.ribbonSaid
	if st.letters.node == nil || !p.panels(st.letters) {
		return
	}
	repeats := r.Tail() < len(r.Panels)
	r.BackAgain = !repeats
	if st.back != nil {
		r.BackAgain = *st.back
	}
	p.checkSets()
	if st.short.node != nil {
		p.checkShort()
	}
	if site.Has(r.Panels, site.BlackResin) && !st.resin {
		p.assume("Whether the black resin holds carbon is not stated, so no infrared reader is said to read it: ask the supplier and state ribbon.resin.")
	}
	if !st.pitch {
		r.Pitch = p.alongFeed() + usualRoom
		p.assume("A panel is taken to be %s long on the ribbon, %s more than the card (from memory): state ribbon.pitch.", r.Pitch, usualRoom)
	}
}

// panels turns the letters into panels.
func (p *reading) panels(v value) bool {
	r := &p.out.Ribbon
	if v.kind == list || v.kind == object || v.text == "" || len(v.text) > 12 {
		v.wrong("panel letters", "up to 12 letters in the order of feeding such as YMCKO")
		return false
	}
	for _, letter := range []byte(v.text) {
		panel, ok := known[letter]
		if own, is := p.ribbonSaid.inks[letter]; is {
			panel, ok = own, true
		}
		if !ok {
			v.fault("is %s, but %q is no panel; write Y M C (dyes), K (black resin), O or T (overlay), F (fluorescent), S G W (silver, gold, white), or explain the letter under ribbon.inks",
				show(v.text), string(rune(letter)))
			return false
		}
		r.Panels = append(r.Panels, panel)
	}
	return true
}

// checkSets holds each printed side to one panel of a letter and one special
// panel.
func (p *reading) checkSets() {
	r, v := p.out.Ribbon, p.ribbonSaid.letters
	for _, s := range sides {
		if p.out.Faces[s.means] == nil {
			continue
		}
		set := r.Set(s.means)
		if len(set) == 0 {
			p.ribbonSaid.fault("leaves no panel for the back: %s repeats no letter; write back: again or a ribbon such as YMCKOK", site.Letters(r.Panels))
			continue
		}
		specials := 0
		for i, panel := range set {
			if panel.Kind == site.Metallic || panel.Kind == site.WhiteResin || panel.Kind == site.ColourResin {
				specials++
			}
			if site.Has(set[:i], panel.Kind) && panel.Kind != site.ColourResin && panel.Kind != site.Metallic {
				v.fault("prints the %s from %s, which has %s twice; write one of each for a side", s.word, site.Letters(set), panel.Name)
			}
		}
		if specials > 1 {
			v.fault("prints the %s from %s, which has %d metallic, white or coloured resins; write at most one for a side", s.word, site.Letters(set), specials)
		}
	}
}

// checkShort holds the window of short panels to the card and the ribbon.
func (p *reading) checkShort() {
	r, v := p.out.Ribbon, p.ribbonSaid.short
	dyes := false
	for _, panel := range r.Panels {
		dyes = dyes || panel.Kind.Dye()
	}
	switch long := p.alongFeed(); {
	case v.kind != object || r.ShortTo == 0:
	case !dyes:
		v.fault("is for short colour panels, but %s has none; take it out", site.Letters(r.Panels))
	case r.ShortFrom >= r.ShortTo || r.ShortTo > long:
		v.fault("reaches from %s to %s; write from less than to, and to at most the %s that the card is long along the feed", plain(r.ShortFrom), r.ShortTo, long)
	}
}

// alongFeed is the card's length along the feed.
func (p *reading) alongFeed() unit.Length {
	if p.out.Printer.Lie[site.Front].AlongX() {
		return p.out.Card.W
	}
	return p.out.Card.H
}
