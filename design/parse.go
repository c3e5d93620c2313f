package design

import (
	"fmt"
	"slices"
	"strings"

	"unspool/site"
)

// Parse reads a programme file. name is what messages call it. What is wrong
// with the file comes back as one error of type *Faults that tells up to 20
// faults with their line and column; Parse never panics and never returns a
// programme beside an error.
func Parse(name string, src []byte) (*Programme, error) {
	p := &reading{faults: Faults{File: name}, out: &Programme{File: name}}
	root, fault := readYAML(src)
	if fault != nil {
		p.faults.List = append(p.faults.List, *fault)
		return nil, p.faults.err()
	}
	p.programme(value{root, "", &p.faults})
	if err := p.faults.err(); err != nil {
		return nil, err
	}
	return p.out, nil
}

// reading is a programme while it is read: what it says, and what can only be
// settled when all of it has been seen.
type reading struct {
	faults Faults
	out    *Programme
	top    group

	stated     struct{ dpi, along, across, dye, resin bool }
	lies       [2]lieStated
	dead       []deadElement
	ribbonSaid ribbonStated
	blackAll   *blackSaid
	blackSide  [2]*blackSaid
	zones      []placedBox
	elements   []placedElement
	tracks     []placedTrack
	faulty     []string // sections that could not be read
}

// assume notes a setting that was left out, as a sentence for the report.
func (p *reading) assume(format string, args ...any) {
	p.out.Assumed = append(p.out.Assumed, fmt.Sprintf(format, args...))
}

// fault notes a fault of a section that may not be in the file.
func (p *reading) fault(path, format string, args ...any) {
	p.faults.add(p.top.at, path, format, args...)
}

// programme reads the whole file.
func (p *reading) programme(v value) {
	if !v.version() {
		return
	}
	pr := &p.out.Printer
	p.out.Card.W, p.out.Card.H = id1[0], id1[1]
	pr.Head, pr.Feed = usualDPI, usualDPI
	pr.GrowthAlong, pr.GrowthAcross = usualGrowthAlong, usualGrowthAcross
	pr.SpreadDye, pr.SpreadResin = usualSpreadDye, usualSpreadResin
	p.out.Ribbon.Ink.Preset = "usual"

	p.top = v.keys("a programme",
		key{"unspool", func(value) {}},
		key{"name", intoLabel(&p.out.Name)},
		p.section("card", p.card),
		p.section("printer", p.printer),
		p.section("ribbon", p.ribbon),
		p.section("black", p.black),
		key{"colour", intoChoice(&p.out.Dye, choice[site.Dye]{"match", site.Match}, choice[site.Dye]{"plain", site.Plain})},
		p.section("faces", p.faces),
		key{"readers", p.readers},
		key{"roster", p.roster},
		key{"fields", p.fields},
		key{"sample", p.sample})
	p.top.need("name", "Crew cards 2027")
	p.top.need("ribbon", "{panels: YMCKO}")
	p.top.need("faces", "{front: [...]}")
	p.top.need("roster", "{file: crew.csv, key: number}")
	p.settle()
}

// version holds the file to the version that this package reads; a file of
// another version is not read further, for its keys may mean other things.
func (v value) version() bool {
	for _, pair := range v.pairs {
		if pair.name != "unspool" {
			continue
		}
		item := v.under(pair)
		n, ok := item.whole(1, 1<<20)
		if ok && n != Version {
			item.fault("is %d, a later format of programmes than the %d that this Unspool reads; use a newer Unspool", n, Version)
		}
		return ok && n == Version
	}
	v.fault("does not begin as a programme; write unspool: %d as its first line", Version)
	return false
}

// roster reads the section roster.
func (p *reading) roster(v value) {
	r := &p.out.Roster
	g := v.keys("roster",
		key{"file", func(v value) { r.File, r.FilePos = v.file(), v.at }},
		key{"sheet", intoLabel(&r.Sheet)},
		key{"separator", intoChoice(&r.Separator, choice[rune]{",", ','}, choice[rune]{";", ';'}, choice[rune]{"tab", '\t'}, choice[rune]{"\t", '\t'})},
		key{"encoding", intoChoice(&r.Encoding, choice[string]{"utf-8", "utf-8"}, choice[string]{"windows-1252", "windows-1252"})},
		key{"key", func(v value) { r.Key, r.KeyPos = v.label(), v.at }})
	g.need("file", "crew.csv")
	g.need("key", "number")
	sheet := strings.HasSuffix(strings.ToLower(r.File), ".xlsx")
	for _, only := range []struct {
		key   string
		sheet bool
		what  string
	}{{"sheet", true, "an XLSX"}, {"separator", false, "a CSV"}, {"encoding", false, "a CSV"}} {
		if g.has(only.key) && r.File != "" && only.sheet != sheet {
			g.seen[only.key].fault("belongs to %s roster, which %s is not; take it out", only.what, show(r.File))
		}
	}
}

// section is a key of the programme that notes whether its section has faults.
func (p *reading) section(name string, read func(value)) key {
	return key{name, func(v value) {
		before := len(p.faults.List)
		read(v)
		if len(p.faults.List) > before {
			p.faulty = append(p.faulty, name)
		}
	}}
}

// sound says whether all these sections could be read. Checks that lean on a
// section wait until it is: they would only echo its faults.
func (p *reading) sound(sections ...string) bool {
	for _, s := range sections {
		if slices.Contains(p.faulty, s) {
			return false
		}
	}
	return true
}

// settle works out what needs the whole file.
func (p *reading) settle() {
	p.nameElements()
	p.checkPrinted()
	if p.sound("card") {
		p.checkPlaces()
		p.checkTracks()
	}
	if p.sound("card", "printer") {
		p.settlePrinter()
	}
	if p.sound("card", "printer", "ribbon") && p.top.has("ribbon") {
		p.settleRibbon()
		if p.sound("black") {
			p.settleBlack()
		}
	}
}
