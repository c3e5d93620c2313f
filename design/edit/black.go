package edit

import "unspool/site"

// SetBlack gives a side its black rule. Where both sides share one rule, the
// other side keeps it.
type SetBlack struct {
	Side site.Side
	Rule site.Black
}

// usualLimit is the limit of the rules dark and zones that need not be written.
const usualLimit = 40

func (c SetBlack) steps(root *node) ([]simple, error) {
	other := site.Back
	if c.Side == site.Back {
		other = site.Front
	}
	own := Keys("black", c.Side.String())
	now := root.get("black")
	switch {
	case now == nil || now.kind == null:
		if shares(root, c.Side) {
			return []simple{Set{Keys("black"), rule(c.Rule, nil)}}, nil
		}
		return []simple{Set{own, rule(c.Rule, nil)}}, nil
	case now.get("front") != nil || now.get("back") != nil:
		return []simple{Set{own, rule(c.Rule, now.get(c.Side.String()))}}, nil
	case shares(root, c.Side) && !shares(root, other):
		return []simple{Set{Keys("black"), rule(c.Rule, now)}}, nil
	}
	sides := [2]Pair{}
	sides[c.Side] = Pair{c.Side.String(), rule(c.Rule, now)}
	sides[other] = Pair{other.String(), Value{now}}
	return []simple{Set{Keys("black"), Group(sides[:]...)}}, nil
}

// shares says whether a side takes the rule that is written for both: it is
// printed, from black resin beside dyes.
func shares(root *node, s site.Side) bool {
	if face := root.get("faces", s.String()); face == nil || len(face.entries) == 0 {
		return false
	}
	var r site.Ribbon
	for _, letter := range []byte(root.get("ribbon").says("panels")) {
		kind := site.ColourResin
		switch letter {
		case 'Y', 'M', 'C':
			kind = site.Yellow
		case 'K':
			kind = site.BlackResin
		}
		r.Panels = append(r.Panels, site.Panel{Letter: letter, Kind: kind})
	}
	r.BackAgain = r.Tail() == len(r.Panels)
	if back := root.get("ribbon").says("back"); back != "" {
		r.BackAgain = back == "again"
	}
	set := r.Set(s)
	return site.Has(set, site.BlackResin) && site.Has(set, site.Yellow)
}

// rule is a black rule as the file has it: the word alone where nothing else
// departs from the usual. Settings that was, the rule in its place, states are
// stated again where they belong to the new rule.
func rule(b site.Black, was *node) Value {
	stated := func(key string) bool { return was != nil && was.get(key) != nil }
	pairs := []Pair{{"rule", Text(b.Rule.String())}}
	if (b.Rule == site.Dark || b.Rule == site.Zones) && (b.Limit != usualLimit || stated("limit")) {
		pairs = append(pairs, Pair{"limit", Whole(int(b.Limit))})
	}
	if b.Rule == site.Zones {
		var zones []Value
		for _, z := range b.Zones {
			zones = append(zones, Box(z))
		}
		pairs = append(pairs, Pair{"zones", List(zones...)})
		if b.Outside || stated("outside") {
			pairs = append(pairs, Pair{"outside", Flag(b.Outside)})
		}
	}
	if b.Rule != site.NoRule && b.Rule != site.All && (b.KeepDyes || stated("dyes")) {
		pairs = append(pairs, Pair{"dyes", Text(map[bool]string{true: "keep", false: "leave"}[b.KeepDyes])})
	}
	if len(pairs) == 1 {
		return pairs[0].Value
	}
	return Group(pairs...)
}
