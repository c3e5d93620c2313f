package design

import (
	"strings"

	"unspool/plane"
	"unspool/site"
)

// usualLimit is what the rules dark and zones call dark where the programme does
// not say. Common practice, no source.
const usualLimit = 40

// blackSaid is what the file says of one black rule.
type blackSaid struct {
	value
	rule    site.Black
	limited bool // limit was stated
	kept    bool // dyes was stated
}

// black reads the section black: one rule, or one for each side.
func (p *reading) black(v value) {
	perSide := false
	for _, pair := range v.pairs {
		perSide = perSide || pair.name == "front" || pair.name == "back"
	}
	if !perSide {
		said := p.blackRule(v)
		p.blackAll = &said
		return
	}
	read := func(s site.Side) func(value) {
		return func(v value) {
			said := p.blackRule(v)
			p.blackSide[s] = &said
		}
	}
	v.keys("black", key{"front", read(site.Front)}, key{"back", read(site.Back)})
}

// ruleWords are the words for the black rules.
func ruleWords() []choice[site.Rule] {
	words := make([]choice[site.Rule], len(site.Rules))
	for i, r := range site.Rules {
		words[i] = choice[site.Rule]{r.String(), r}
	}
	return words
}

// blackRule reads exact, or {rule: dark, limit: 40, dyes: keep}.
func (p *reading) blackRule(v value) blackSaid {
	said := blackSaid{value: v, rule: site.Black{Limit: usualLimit}}
	b := &said.rule
	if v.kind != object {
		intoChoice(&b.Rule, ruleWords()...)(v)
		if b.Rule == site.Zones {
			v.fault("needs its rectangles; write {rule: zones, zones: [[x, y, width, height]]}")
		}
		return said
	}
	limit := int(b.Limit)
	g := v.keys("black",
		key{"rule", intoChoice(&b.Rule, ruleWords()...)},
		key{"limit", intoWhole(&limit, 0, 254)},
		key{"zones", func(v value) {
			v.each(50, "rectangles [[x, y, width, height], ...]", func(_ int, v value) {
				var box plane.Box
				intoBox(&box, 1)(v)
				if box.W > 0 {
					b.Zones = append(b.Zones, box)
					p.zones = append(p.zones, placedBox{v, box})
				}
			})
		}},
		key{"outside", intoFlag(&b.Outside)},
		key{"dyes", intoChoice(&b.KeepDyes, choice[bool]{"keep", true}, choice[bool]{"leave", false})})
	g.need("rule", "objects")
	b.Limit = uint8(limit)
	said.limited, said.kept = g.has("limit"), g.has("dyes")
	p.blackFits(g, b.Rule)
	return said
}

// placedBox is a box with its place in the file.
type placedBox struct {
	value
	box plane.Box
}

// blackFits turns away settings that the rule does not look at, for they would
// be taken to work.
func (p *reading) blackFits(g group, r site.Rule) {
	if !g.has("rule") || r == site.NoRule && g.seen["rule"].text != "none" {
		return
	}
	for _, k := range []struct {
		name  string
		rules []site.Rule
	}{
		{"limit", []site.Rule{site.Dark, site.Zones}},
		{"zones", []site.Rule{site.Zones}},
		{"outside", []site.Rule{site.Zones}},
		{"dyes", []site.Rule{site.Exact, site.Dark, site.Objects, site.Zones}},
	} {
		fits, words := false, make([]string, len(k.rules))
		for i, rule := range k.rules {
			fits, words[i] = fits || rule == r, rule.String()
		}
		if g.has(k.name) && !fits {
			g.seen[k.name].fault("has no effect with the rule %s, only with %s; take it out", r, strings.Join(words, ", "))
		}
	}
	if r == site.Zones && !g.has("zones") {
		g.fault("needs its rectangles; write zones: [[x, y, width, height]]")
	}
}

// settleBlack gives each printed side its rule. A side whose panels hold no
// resin takes none; one whose panels hold no dye takes all, unless the file
// gives that very side a rule; otherwise the rule must be stated, for
// everything hangs on it.
func (p *reading) settleBlack() {
	told := false
	for _, s := range sides {
		if p.out.Faces[s.means] == nil {
			continue
		}
		said := p.blackSide[s.means]
		if said == nil {
			set := p.out.Ribbon.Set(s.means)
			switch resin, dye := site.Has(set, site.BlackResin), anyDye(set); {
			case len(set) == 0 || !resin && dye:
				continue
			case !dye:
				p.out.Black[s.means].Rule = site.All
				continue
			}
			said = p.blackAll
		}
		if said == nil {
			if !told {
				p.fault("black", "is missing; write the rule by which the printer's driver puts dots on the black panel: none, exact, dark, objects, zones or all")
			}
			told = true
			continue
		}
		p.out.Black[s.means] = said.rule
		p.assumeBlack(s.word, said)
	}
}

func (p *reading) assumeBlack(side string, said *blackSaid) {
	r := said.rule.Rule
	if (r == site.Dark || r == site.Zones) && !said.limited {
		p.assume("On the %s a dot is taken for dark where red, green and blue are all at most %d of 255: state black.limit.", side, usualLimit)
	}
	if r != site.NoRule && r != site.All && !said.kept {
		p.assume("On the %s the dyes under black resin are taken to be left out: state black.dyes.", side)
	}
}

func anyDye(panels []site.Panel) bool {
	for _, panel := range panels {
		if panel.Kind.Dye() {
			return true
		}
	}
	return false
}
