package design

import (
	"fmt"
	"strings"

	"unspool/code"
	"unspool/grade"
	"unspool/site"
	"unspool/unit"
)

// readers reads the section readers.
func (p *reading) readers(v value) {
	names := map[string]int{}
	v.each(50, "a list of readers such as - {name: Gate, kind: slot, light: 940, ...}", func(_ int, v value) {
		r := p.reader(v)
		if first, again := names[r.Name]; again && r.Name != "" {
			v.fault("is named %s like the reader on line %d; write another name", show(r.Name), first)
		}
		names[r.Name] = v.at.Line
		p.out.Readers = append(p.out.Readers, r)
	})
}

// usualMinX is the smallest narrow element of each kind of reader where the
// programme does not say. Common practice, no source.
var usualMinX = [...]unit.Length{
	site.Slot:    unit.MM(0.25),
	site.Hand:    unit.MM(0.19),
	site.Counter: unit.MM(0.19),
	site.Camera:  unit.MM(0.25),
}

// usualTolerance is how far from its line a slot reader may find the card.
// Common practice, no source.
const usualTolerance = 2 * mm

// usualLeast is grade C, what sites commonly ask for. Common practice, no source.
const usualLeast = 1.5

// usualWidth is the full width at half maximum of a light-emitting diode of this
// peak. From memory: red 15 to 25, 850 nm 30 to 45, 880 nm 60 to 80, 940 nm 40
// to 50.
func usualWidth(peak unit.Nanometres) unit.Nanometres {
	switch {
	case peak < 700:
		return 20
	case peak < 865:
		return 40
	case peak < 910:
		return 70
	}
	return 45
}

// reader reads one reader.
func (p *reading) reader(v value) site.Reader {
	r := site.Reader{Least: usualLeast, Track: site.Track{Tolerance: usualTolerance}}
	t := &r.Track
	g := v.keys("a reader",
		key{"name", intoLabel(&r.Name)},
		key{"kind", intoChoice(&r.Kind, readerKinds...)},
		key{"light", intoNM(&r.Peak, unit.FirstNM, unit.LastNM)},
		key{"width", intoNM(&r.Width, 0, 300)},
		key{"spot", intoLength(&r.Spot, mm/100, 2*mm)},
		key{"min-x", intoLength(&r.MinX, mm/20, 2*mm)},
		key{"min-height", intoLength(&r.MinHeight, 0, 100*mm)},
		key{"accepts", func(v value) {
			v.each(20, "a list of codes such as [code39]", func(_ int, v value) { r.Accepts = append(r.Accepts, accept(v)) })
		}},
		key{"least", func(v value) { r.Least = v.grade(usualLeast) }},
		key{"rule", intoChoice(&r.Rule, rules()...)},
		key{"side", intoChoice(&t.Side, sides...)},
		key{"from", intoChoice(&t.From, choice[site.Edge]{"top", site.Top}, choice[site.Edge]{"bottom", site.Bottom},
			choice[site.Edge]{"left", site.Left}, choice[site.Edge]{"right", site.Right})},
		key{"line", intoLength(&t.Line, mm/2, maxCard)},
		key{"tolerance", intoLength(&t.Tolerance, 0, 20*mm)})
	g.need("name", "Quay clock")
	g.need("kind", "slot")
	g.need("light", "940")
	g.need("accepts", "[code39]")
	if g.has("accepts") && g.seen["accepts"].kind == list && len(r.Accepts) == 0 {
		g.seen["accepts"].fault("names no code; write the codes the reader is set to read such as [code39]")
	}
	readerRule(g, &r)
	p.readerTrack(g, &r)
	p.readerUsual(g, &r)
	return r
}

var readerKinds = []choice[site.ReaderKind]{
	{"slot", site.Slot}, {"hand", site.Hand}, {"counter", site.Counter}, {"camera", site.Camera},
}

// rules are the acceptance rules that a reader may name.
func rules() (all []choice[string]) {
	for _, a := range grade.Acceptances() {
		all = append(all, choice[string]{a.Name, a.Name})
	}
	return all
}

// readerRule takes the least grade from the acceptance rule that a reader names. A
// rule judges the grade in one light; of another reader's it says nothing.
func readerRule(g group, r *site.Reader) {
	a, ok := grade.AcceptanceByName(r.Rule)
	if !ok {
		return
	}
	r.Least = a.Least
	if g.has("least") {
		g.seen["least"].fault("has no effect: the rule %s states the least grade, %.1f; take one of them out", a.Name, a.Least)
	}
	if r.Peak != 0 && !a.Sees(r.Peak) {
		g.seen["rule"].fault("is %s, which judges a grade in light of %s and says nothing of one in light of %s; write least instead", a.Name, a.Light, r.Peak)
	}
}

// grade reads a grade of ISO/IEC 15416 from 0 to 4, or its letter: the least
// number that the letter stands for.
func (v value) grade(usual float64) float64 {
	if v.kind == number {
		intoDecimal(&usual, 0, 4)(v)
		return usual
	}
	intoChoice(&usual, choice[float64]{"A", 3.5}, choice[float64]{"B", 2.5}, choice[float64]{"C", 1.5}, choice[float64]{"D", 0.5})(v)
	return usual
}

// accept reads code39, or {code: code39, length: 6, check: mod43}.
func accept(v value) (a site.Accept) {
	if v.kind != object {
		if k, ok := v.symbology(); ok {
			a.Kind = k.Name
		}
		return a
	}
	var k code.Kind
	var check code.Check
	known := false
	g := v.keys("a code that a reader accepts",
		key{"code", func(v value) { k, known = v.symbology() }},
		key{"length", func(v value) { a.Min, a.Max = v.span() }},
		key{"check", intoCheck(&check)})
	g.need("code", "code39")
	if known {
		a.Kind, a.Check = k.Name, string(check)
		if g.has("check") {
			checkLegal(g.seen["check"], k, check)
		}
	}
	return a
}

// span reads a number of characters, or the least and most of them.
func (v value) span() (lo, hi int) {
	if v.kind != list {
		n, _ := v.whole(1, 200)
		return n, n
	}
	if len(v.items) != 2 {
		v.wrong("a length in characters", "6, or [4, 8] for 4 to 8")
		return 0, 0
	}
	to := [2]*int{&lo, &hi}
	v.each(2, "[4, 8]", func(i int, v value) { intoWhole(to[i], 1, 200)(v) })
	if lo > hi && hi > 0 {
		v.fault("runs from %d to %d; write the smaller number first", lo, hi)
	}
	return lo, hi
}

// readerTrack holds the line of a slot reader to the card.
func (p *reading) readerTrack(g group, r *site.Reader) {
	if g.kind != object || !g.has("kind") {
		return
	}
	if r.Kind != site.Slot {
		for _, name := range []string{"side", "from", "line", "tolerance"} {
			if g.has(name) {
				g.seen[name].fault("belongs to a slot reader, which looks at one line; a %s reader does not: take it out", r.Kind)
			}
		}
		return
	}
	for i, a := range r.Accepts {
		if k, ok := code.ByName(a.Kind); ok && !k.Family.Linear() {
			v := g.seen["accepts"]
			value{v.items[i], fmt.Sprintf("%s[%d]", v.path, i+1), v.faults}.fault("is %s, which a camera reads as a whole, and a slot looks at one line; take it out", k.Title)
		}
	}
	g.need("side", "front")
	g.need("from", "bottom")
	g.need("line", "11")
	if g.has("from") && r.Track.Line > 0 {
		p.tracks = append(p.tracks, placedTrack{g, r.Track})
	}
}

// placedTrack is a slot reader's line with its place in the file.
type placedTrack struct {
	group
	track site.Track
}

// checkTracks holds the lines of slot readers to the card: they run along its
// long edge and stay on it.
func (p *reading) checkTracks() {
	c := p.out.Card
	for _, t := range p.tracks {
		along, across := c.W, c.H
		if t.track.From.Horizontal() {
			along, across = c.H, c.W
		}
		if along < across {
			long := "top or bottom"
			if c.H > c.W {
				long = "left or right"
			}
			t.seen["from"].fault("is the %s edge, a short edge of this card; a card is swiped along a long edge: write %s", t.track.From, long)
			continue
		}
		if t.track.Line-t.track.Tolerance < 0 || t.track.Line+t.track.Tolerance > across {
			t.seen["line"].fault("lies at %s ± %s from the %s edge, beyond the card, which is %s across; write a line on the card",
				plain(t.track.Line), t.track.Tolerance, t.track.From, across)
		}
	}
}

// readerUsual fills in what the programme leaves out, and says so.
func (p *reading) readerUsual(g group, r *site.Reader) {
	if g.kind != object || r.Peak == 0 {
		return
	}
	var said []string
	if !g.has("min-x") {
		r.MinX = usualMinX[r.Kind]
		said = append(said, "a smallest narrow element of "+r.MinX.String())
	}
	if !g.has("spot") {
		// Four fifths of the smallest element: how apertures are chosen for 2-D
		// symbols (read in the GS1 General Specifications, release 18, page 337); taken
		// over to readers by own judgement.
		r.Spot = r.MinX * 4 / 5
		said = append(said, "a spot of "+r.Spot.String())
	}
	if !g.has("width") {
		r.Width = usualWidth(r.Peak)
		said = append(said, "light "+r.Width.String()+" wide")
	}
	if !g.has("least") && r.Rule == "" {
		said = append(said, "grade C (1.5) as the least")
	}
	if r.Kind == site.Slot && !g.has("tolerance") {
		said = append(said, "a line that may lie "+r.Track.Tolerance.String()+" off")
	}
	if len(said) > 0 {
		p.assume("The reader %s is taken to have %s (common practice, no source).", r.Name, strings.Join(said, ", "))
	}
}
