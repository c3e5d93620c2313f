package edit

// The order in which docs/programme.md explains the keys, which is the order
// that added keys follow.
var (
	topKeys     = []string{"unspool", "name", "card", "printer", "ribbon", "black", "colour", "faces", "readers", "roster", "fields", "sample"}
	sectionKeys = map[string][]string{
		"card":    {"size", "upright", "width", "height", "keepouts"},
		"printer": {"dpi", "process", "unprinted", "growth", "spread", "dead", "front", "back"},
		"ribbon":  {"panels", "resin", "back", "short", "pitch", "yield", "price", "ink", "inks"},
		"black":   ruleKeys,
		"faces":   {"front", "back"},
		"roster":  {"file", "sheet", "key", "separator", "encoding"},
	}
	innerKeys = map[string][]string{
		"growth": {"along", "across"}, "spread": {"dye", "resin"}, "short": {"from", "to"},
		"front": {"leads", "first", "offset"}, "back": {"leads", "first", "offset"},
	}
	ruleKeys    = []string{"front", "back", "rule", "limit", "zones", "outside", "dyes"}
	keepOutKeys = []string{"stripe", "chip", "punch", "signature", "bump", "box"}
	inkKeys     = []string{"name", "colour"}
	elementKeys = []string{
		"name", "picture", "photo", "code", "text", "mrz", "rectangle", "ellipse", "line", "folder", "box", "fit", "anchor",
		"check", "given", "full-ascii", "start", "stop", "level", "oblong", "columns", "compact", "gs1", "binary", "x", "ratio", "reduce", "turn",
		"document", "state", "number", "optional", "optional2", "born", "sex", "expires", "nationality", "surname", "forenames", "lines",
		"size", "floor", "wrap", "font", "bold", "colour", "align", "valign", "leading", "spacing", "backing", "printed",
		"fill", "stroke", "width", "radius", "send", "show",
	}
	showKeys   = []string{"field", "is", "not"}
	readerKeys = []string{"name", "kind", "light", "width", "spot", "min-x", "min-height", "accepts", "least", "rule", "side", "from", "line", "tolerance"}
	acceptKeys = []string{"code", "length", "check"}
)

// keyOrder is the order of the keys of the group at p; nil where it has none.
func keyOrder(p Path) []string {
	n := len(p.steps)
	if n == 0 {
		return topKeys
	}
	section, last := p.steps[0].key, p.steps[n-1].key
	switch {
	case n == 1:
		return sectionKeys[section]
	case section == "black":
		return ruleKeys
	case section == "card":
		return keepOutKeys
	case section == "ribbon" && n == 3:
		return inkKeys
	case section == "faces" && n == 3:
		return elementKeys
	case section == "faces" && last == "show":
		return showKeys
	case section == "readers" && n == 2:
		return readerKeys
	case section == "readers":
		return acceptKeys
	case section == "printer" || section == "ribbon":
		return innerKeys[last]
	}
	return nil
}

// slot is the index at which a new key belongs among the entries: after the
// nearest of those that the order puts before it; a key without a place in the
// order comes last.
func slot(entries []entry, key string, order []string) int {
	rank := func(k string) int {
		for i, o := range order {
			if o == k {
				return i
			}
		}
		return len(order)
	}
	mine, best, at := rank(key), -1, 0
	if mine == len(order) {
		return len(entries)
	}
	for i, e := range entries {
		if r := rank(e.key); r < mine && r >= best {
			best, at = r, i+1
		}
	}
	return at
}
