package proof

import (
	"strings"
	"testing"

	"unspool/design"
)

// verdicts proves one card and gives what each reader makes of its first code.
func verdicts(t *testing.T, p *design.Programme) map[string]Reading {
	t.Helper()
	pf, err := New(p, assets(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	card, err := pf.Worker().Card(0, Row{Person: p.Person(somebody())})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]Reading{}
	for _, r := range card.Readings {
		got[pf.Readers[r.Reader].Name] = r
	}
	return got
}

// What a coloured pigment does beyond the visible is not known, and a metallic
// resin is a mirror: neither may pass (common practice, no source). White resin
// is as bright as the card.
func TestBarsOfOtherResinsAreNotVouchedFor(t *testing.T) {
	const ink = "panels: YMCB, inks: {B: {name: blue resin, colour: \"#101040\"}}"
	for _, c := range []struct {
		name, panels, send string
		clock, hand        string // the cause at 940 nm and at 660 nm; empty where it reads
	}{
		{"blue", ink, "send: special, ", "resin-unproved", ""},
		{"blue, as the only resin", ink, "send: resin, ", "resin-unproved", ""},
		{"blue and nothing else", strings.Replace(ink, "YMCB", "B", 1), "", "resin-unproved", ""},
		{"silver", "panels: YMCS", "send: special, ", "resin-unproved", "resin-unproved"},
		{"gold beside black", "panels: YMCKG", "send: special, ", "resin-unproved", "resin-unproved"},
		{"white", "panels: YMCKW", "send: special, ", "colour-vanishes", "colour-vanishes"},
	} {
		changes := []string{"panels: YMCKOK, resin: carbon", c.panels, "x: 3,", c.send + "x: 3,"}
		if strings.Contains(c.panels, "K") {
			changes[1] += ", resin: carbon"
		}
		if c.name == "blue and nothing else" {
			changes = append(changes, "black: {rule: objects, dyes: leave}\n", "")
		}
		got := verdicts(t, edit(t, changes...))
		for reader, want := range map[string]string{"clock": c.clock, "hand": c.hand} {
			r := got[reader]
			if r.Cause.ID != want || (want == "") != (r.Verdict == Reads) {
				t.Errorf("%s at the %s: %v, %q (%s); want %q", c.name, reader, r.Verdict, r.Cause.ID, r.Cause.Reason, want)
			}
		}
	}
}

// A code without a dot of resin fails for want of it, whatever the resin is.
func TestUnknownResinIsBlamedOnlyWhereItPrints(t *testing.T) {
	for _, c := range []struct{ panels, rule, want string }{
		{"YMCKOK, resin: unknown", "{rule: objects, dyes: leave}", "resin-unknown"},
		{"YMCKOK, resin: unknown", "none", "no-carbon"},
		{"YMCO", "", "no-carbon"},
	} {
		changes := []string{"YMCKOK, resin: carbon", c.panels, "{rule: objects, dyes: leave}", c.rule}
		if c.rule == "" {
			changes[2], changes[3] = "black: {rule: objects, dyes: leave}\n", ""
		}
		if r := verdicts(t, edit(t, changes...))["clock"]; r.Verdict != Fails || r.Cause.ID != c.want {
			t.Errorf("%s, rule %q: %v, %q; want %q", c.panels, c.rule, r.Verdict, r.Cause.ID, c.want)
		}
	}
}

// The programme's own table may claim dyes that are dark in infrared; a resin of
// unknown pigment does not pass on their strength.
func TestUnknownResinNeverPassesInfrared(t *testing.T) {
	table := "YMCKOK, resin: unknown, ink: {table: [[380, 1, 1, 1, 2], [450, 2, 1, 1, 2], [550, 1, 2, 1, 2], [650, 1, 1, 2, 2], [1000, 1, 1, 1, 2]]}"
	r := verdicts(t, edit(t, "YMCKOK, resin: carbon", table))["clock"]
	if r.Verdict != Fails || r.Cause.ID != "resin-unknown" {
		t.Errorf("%v, %q: %s", r.Verdict, r.Cause.ID, r.Cause.Reason)
	}
}

// Silver in a quiet zone darkens it as anything does.
func TestOtherResinEntersAQuietZone(t *testing.T) {
	p := edit(t, "panels: YMCKOK", "panels: YMCKSK", "    - {name: crew number", "    - {name: strip, rectangle: [31.5, 36, 1, 11], fill: black, send: special}\n    - {name: crew number")
	for _, f := range findings(t, p, somebody(), false) {
		if f.ID == "quiet-entered" && strings.Contains(f.Detail.String(), "strip") {
			return
		}
	}
	t.Error("nothing is said of it")
}

// Nothing is read across a hole or the contacts of a chip, however well the
// panels are printed there; beside them a hand still reads.
func TestHolesAndChipsStopTheirLines(t *testing.T) {
	for _, c := range []struct {
		keepOut     string
		clock, hand Verdict
	}{
		{"{punch: front, box: [50, 41, 14, 3]}", Fails, Little}, // on the clock's line, across a third of the bars' height
		{"{punch: front, box: [50, 37, 14, 9]}", Fails, Fails},
		{"{punch: front, box: [50, 36, 14, 2]}", Reads, Little},
	} {
		got := verdicts(t, edit(t, "size: ID-1", "size: ID-1\n  keepouts: ["+c.keepOut+"]"))
		if got["clock"].Verdict != c.clock || got["hand"].Verdict != c.hand {
			t.Errorf("%s: clock %v, hand %v (%s); want %v and %v", c.keepOut, got["clock"].Verdict, got["hand"].Verdict, got["hand"].Cause.Reason, c.clock, c.hand)
		}
		for reader, r := range got {
			if r.Verdict == Fails && r.Cause.ID != "code-cut" {
				t.Errorf("%s: the %s blames %q: %s", c.keepOut, reader, r.Cause.ID, r.Cause.Reason)
			}
		}
	}
}
