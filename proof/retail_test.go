package proof

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// retail is what is found of the base programme with another code and readers set
// for it, but for its height and for X, which are recommendations.
func retail(t *testing.T, code, accepts string, more ...string) []string {
	t.Helper()
	changes := []string{"code: code39, text: \"{number}\"", code, ", printed: crew number", "",
		"{code: code39, length: 6}", accepts, "{code: code39, length: 6}", accepts}
	var ids []string
	for _, f := range findings(t, edit(t, append(changes, more...)...), somebody(), false) {
		if f.ID != "low-bars" && f.ID != "x-below-open" {
			ids = append(ids, f.ID+": "+f.Detail.String())
		}
	}
	return ids
}

// A reader takes a symbol by what it is, whatever it is called: see code.Reads.
func TestReadersTakeWhatASymbolIs(t *testing.T) {
	const ean, upc = `code: ean13, text: "451234{number}"`, `code: upca, text: "41234{number}"`
	for _, c := range []struct{ code, accepts, want string }{
		{ean, "{code: ean13, length: 13}", ""},
		{ean, "{code: ean13, check: mod10}", ""},
		{ean, "upca", "wrong-kind"},
		{ean, "ean8", "wrong-kind"},
		{upc, "{code: upca, length: 12, check: mod10}", ""},
		{upc, "{code: ean13, length: 13}", ""},
		{upc, "{code: ean13, length: 12}", "wrong-length"},
		{`code: gs1-128, text: "(21){number}"`, "{code: code128, length: 8}", ""},
		{`code: isbt128, check: mod37, text: "=A123426{number}"`, "{code: isbt128, check: mod37}", ""},
		{`code: isbt128, text: "=A123426{number}00"`, "{code: isbt128, check: mod37}", "wrong-check"},
		{`code: code93, text: "{number}"`, "[code93, code39]", ""},
	} {
		accepts := c.accepts
		if accepts[0] == '[' {
			accepts = accepts[1 : len(accepts)-1]
		}
		ids := retail(t, c.code, accepts)
		found := slices.ContainsFunc(ids, func(id string) bool { return strings.HasPrefix(id, c.want+":") })
		if c.want == "" && len(ids) > 0 || c.want != "" && !found {
			t.Errorf("%s, %s: %q, want %s", c.code, c.accepts, ids, c.want)
		}
	}
}

// EAN-13 needs 11 X in front and 7 X behind (size guide at gs1.se): a mark 9 X off
// disturbs the one and not the other, whichever way the symbol lies. Its bars are
// 95 X long.
func TestAMarkInAQuietZoneOfTwoWidths(t *testing.T) {
	const (
		ean  = `code: ean13, text: "451234{number}"`
		mark = "    - {name: bar, rectangle: [LEFT, 36, 0.5, 11], fill: black}\n    - {name: crew number"
		x    = 3 * 25.4 / 300 // mm
	)
	left := func(mm float64) string { return strings.Replace(mark, "LEFT", fmt.Sprintf("%.2f", mm), 1) }
	for _, c := range []struct {
		name string
		at   float64 // of the mark's left edge, mm
		turn string
		want string
	}{
		{"before it", 30 + 11*x - 9*x - 0.5, "0", `"bar" enters its quiet zone: 9.0 X are clear, 11 X are needed`},
		{"after it", 30 + 106*x + 9*x, "0", ""},
		{"close after it", 30 + 106*x + 5*x, "0", `"bar" enters its quiet zone: 5.0 X are clear, 7 X are needed`},
		{"turned, 9 X off its end", 82 - 106*x - 9*x - 0.5, "180", ""},
		{"turned, 9 X off its start, in whole dots 8.7", 82 - 11*x + 9*x, "180", `"bar" enters its quiet zone: 8.7 X are clear, 11 X are needed`},
	} {
		ids := retail(t, ean, "ean13", "align: start", "align: start, turn: "+c.turn, "    - {name: crew number", left(c.at))
		found := slices.ContainsFunc(ids, func(id string) bool { return strings.Contains(id, c.want) })
		if c.want == "" && len(ids) > 0 || c.want != "" && !found {
			t.Errorf("%s: %q, want %s", c.name, ids, c.want)
		}
	}
}
