package design_test

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"unspool/code"
	"unspool/design"
	"unspool/mrz"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

func read(t testing.TB, name string) []byte {
	t.Helper()
	src, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

func parse(t testing.TB, src string) *design.Programme {
	t.Helper()
	p, err := design.Parse("programme.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func equal(t *testing.T, what string, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s:\n got %+v\nwant %+v", what, got, want)
	}
}

func box(x, y, w, h float64) plane.Box {
	return plane.Box{X: unit.MM(x), Y: unit.MM(y), W: unit.MM(w), H: unit.MM(h)}
}

func TestFullSampleSite(t *testing.T) {
	p := parse(t, string(read(t, "full.yaml")))
	equal(t, "card", p.Card, site.Card{W: unit.MM(85.6), H: unit.MM(53.98), KeepOuts: []site.KeepOut{
		{Kind: site.Stripe, Side: site.Back, Box: box(0, 3.5, 85.6, 14)},
		{Kind: site.Signature, Side: site.Back, Box: box(5, 20, 75, 9)},
		{Kind: site.Chip, Side: site.Front, Box: box(8, 16, 13.5, 15)},
		{Kind: site.Punch, Side: site.Front, Box: box(33.8, 0, 18, 10)},
		{Kind: site.Bump, Side: site.Front, Box: box(70, 40, 8, 8)},
	}})
	equal(t, "printer", p.Printer, site.Printer{
		Head: 300, Feed: 600, Unprinted: unit.MM(0.5), GrowthAlong: unit.MM(0.03),
		SpreadDye: unit.MM(0.03), SpreadResin: unit.MM(0.01), Dead: []int{212},
		Lie: [2]site.Lie{{Leads: site.Left, First: site.Top, Offset: 4}, {Leads: site.Right, First: site.Bottom, Offset: 4}},
	})
	equal(t, "letters", site.Letters(p.Ribbon.Panels), "YMCKOB")
	equal(t, "own resin", p.Ribbon.Panels[5], site.Panel{Letter: 'B', Kind: site.ColourResin, Name: "blue resin", Colour: [3]uint8{0x1b, 0x3a, 0x8a}})
	p.Ribbon.Panels = nil
	equal(t, "ribbon", p.Ribbon, site.Ribbon{Carbon: site.CarbonYes, BackAgain: true, ShortTo: unit.MM(42), Pitch: unit.MM(90), Yield: 250, Price: 7850, Currency: "EUR",
		Ink: site.Ink{Table: []site.InkRow{{NM: 380, Y: .9, M: .5, C: .3, K: 2.8}, {NM: 550, Y: .1, M: 1.9, C: .4, K: 2.1, White: .87}, {NM: 1000, K: 1.3}}}})
	equal(t, "black", p.Black, [2]site.Black{
		{Rule: site.Dark, Limit: 48, KeepDyes: true},
		{Rule: site.Zones, Limit: 60, Outside: true, Zones: []plane.Box{box(2, 20, 40, 20)}},
	})
	equal(t, "reader", p.Readers[0], site.Reader{Name: "Quay clock", Kind: site.Slot, Peak: 940, Width: 50, Spot: unit.MM(0.2), MinX: unit.MM(0.25), MinHeight: unit.MM(4), Least: 1.5,
		Accepts: []site.Accept{{Kind: "code39", Min: 4, Max: 8, Check: "mod43"}, {Kind: "itf", Min: 6, Max: 6}},
		Track:   site.Track{Side: site.Front, From: site.Bottom, Line: unit.MM(11), Tolerance: unit.MM(2)}})
	equal(t, "rule", []any{p.Readers[2].Rule, p.Readers[2].Least}, []any{"gs1-healthcare-datamatrix", 1.5})
	equal(t, "colour", p.Dye, site.Plain)
	equal(t, "roster", p.Roster, design.Roster{File: "crew.csv", FilePos: design.Pos{Line: 130, Column: 9}, Separator: ';', Encoding: "windows-1252", Key: "number", KeyPos: design.Pos{Line: 131, Column: 8}})
}

func TestFullSampleFaces(t *testing.T) {
	p := parse(t, string(read(t, "full.yaml")))
	front := p.Faces[site.Front].Elements
	var names []string
	for _, f := range p.Faces {
		for _, e := range f.Elements {
			names = append(names, e.Name)
		}
	}
	equal(t, "names", names, []string{"sea", "photo 1", "rectangle 1", "ellipse 1", "rule", "holder", "text 1", "text 2", "text 3", "number", "code 1", "code 2", "code 3", "code 4", "code 5", "code 6", "mrz 1", "mrz 2"})
	equal(t, "picture", *front[0].Picture, design.Picture{File: "art/sea.png", Fit: design.Stretch})
	ph := *front[1].Photo
	equal(t, "photo", []any{ph.File.Parts, ph.Folder, ph.AnchorX, ph.AnchorY}, []any{[]design.Part{{Field: "photo"}}, "portraits", 0.5, 0.3})
	equal(t, "rectangle", *front[2].Shape, design.Shape{Kind: design.Rectangle, Fill: &[3]uint8{0x0b, 0x3d, 0x5c}, Stroke: &[3]uint8{255, 255, 255}, Width: unit.MM(0.5), Radius: unit.MM(1)})
	equal(t, "ellipse", *front[3].Shape, design.Shape{Kind: design.Ellipse, Fill: &[3]uint8{0xff, 0x88, 0}})
	tx := *front[5].Text
	tx.Text = design.Template{}
	equal(t, "text", tx, design.Text{Font: "fonts/Harbour.ttf", Bold: true, Size: unit.MM(4.2), Floor: unit.MM(3), Wrap: true, Align: design.Middle, Valign: design.End, Leading: 1.1})
	equal(t, "sent", front[5].Send, design.ToResin)
	equal(t, "is", *front[6].Show, design.Condition{Field: "role", Equals: "Master", Pos: front[6].Show.Pos})
	equal(t, "not", *front[7].Show, design.Condition{Field: "role", Equals: "Master", Not: true, Pos: front[7].Show.Pos})
	equal(t, "filled", *front[8].Show, design.Condition{Field: "escort", Pos: front[8].Show.Pos})
	c := *front[10].Code
	c.Text = design.Template{}
	equal(t, "code", c, design.Code{Kind: "code39", Options: code.Options{Check: code.Mod43}, X: 3, Ratio: 2.5, Reduce: 1, Turn: 180, Align: design.Middle, Backing: true, Printed: "number"})
	equal(t, "codabar", p.Faces[site.Back].Elements[0].Code.Options, code.Options{Check: code.Luhn, Given: true, Start: "A", Stop: "B"})
	equal(t, "qr", p.Faces[site.Back].Elements[2].Code.Options, code.Options{Level: "Q", GS1: true})
	equal(t, "datamatrix", p.Faces[site.Back].Elements[3].Code.Options, code.Options{Oblong: true, Binary: true})
	equal(t, "pdf417", p.Faces[site.Back].Elements[4].Code.Options, code.Options{Level: "3", Columns: 4, Compact: true})
	zone := *p.Faces[site.Back].Elements[5].MRZ
	equal(t, "zone", []any{zone.Format, zone.Document.Parts, zone.Forenames.Parts, zone.Font, zone.Size, zone.Spacing},
		[]any{mrz.TD1, []design.Part{{Literal: "AC"}}, []design.Part{{Field: "given"}}, "fonts/OCRB.otf", unit.MM(3.5), unit.MM(4.2)})
	zone = *p.Faces[site.Back].Elements[6].MRZ
	equal(t, "zone given whole", []any{zone.Format, len(zone.Lines), zone.Lines[1].Parts, zone.Size, zone.Spacing},
		[]any{mrz.TD2, 2, []design.Part{{Field: "line2"}}, unit.Length(0), unit.MM(6.35)})
	equal(t, "place of the code", front[10].Pos, design.Pos{Line: 71, Column: 7})
}

// What the short sample leaves out takes the defaults that docs/programme.md
// promises, and those that are guesses are said.
func TestDefaults(t *testing.T) {
	p := parse(t, string(read(t, "short.yaml")))
	pr := p.Printer
	equal(t, "printer", pr, site.Printer{Head: 300, Feed: 300, GrowthAlong: unit.MM(0.02), GrowthAcross: unit.MM(0.005), GrowthAssumed: true,
		SpreadDye: unit.MM(0.03), SpreadResin: unit.MM(0.01), SpreadAssumed: true, Lie: [2]site.Lie{{Leads: site.Left, First: site.Top}, {Leads: site.Left, First: site.Top}}})
	equal(t, "pitch", p.Ribbon.Pitch, unit.MM(91))
	equal(t, "ink", p.Ribbon.Ink, site.Ink{Preset: "usual"})
	equal(t, "black", p.Black, [2]site.Black{{Rule: site.Objects, Limit: 40}, {}})
	r := p.Readers[0]
	equal(t, "reader", []any{r.Width, r.Spot, r.MinX, r.Least, r.Track.Tolerance}, []any{unit.Nanometres(45), unit.MM(0.2), unit.MM(0.25), 1.5, unit.MM(2)})
	equal(t, "code", p.Faces[site.Front].Elements[1].Code.Align, design.Middle)
	equal(t, "assumed", strings.Join(p.Assumed, "\n"), `The reader Clock is taken to have a smallest narrow element of 0.25 mm, a spot of 0.2 mm, light 45 nm wide, grade C (1.5) as the least, a line that may lie 2 mm off (common practice, no source).
The printer is taken to print 300 dots per inch across the head and along the feed.
Printed marks are taken to come out 20 µm wider along the feed and 5 µm across it (from memory): measure a test card and state printer.growth.
Printed edges are taken to blur with a standard deviation of 30 µm in dye and 10 µm in resin (from memory): state printer.spread where it is known.
Whether the black resin holds carbon is not stated, so no infrared reader is said to read it: ask the supplier and state ribbon.resin.
A panel is taken to be 91 mm long on the ribbon, 5 mm more than the card (from memory): state ribbon.pitch.
On the front the dyes under black resin are taken to be left out: state black.dyes.`)
}

// edited is the short sample with one part replaced.
func edited(t testing.TB, old, new string) string {
	t.Helper()
	s := string(read(t, "short.yaml"))
	if strings.Count(s, old) != 1 {
		t.Fatalf("%q stands %d times in short.yaml", old, strings.Count(s, old))
	}
	return strings.Replace(s, old, new, 1)
}

func TestSettledFromOtherKeys(t *testing.T) {
	upright := parse(t, strings.NewReplacer("{width: 86, height: 54}", "{size: CR80, upright: true}", "box: [5, 40, 70, 10]", "box: [2, 40, 50, 10]",
		"[0, 0, 85.6, 3]", "[0, 0, 53, 3]", "from: bottom", "from: left").Replace(string(read(t, "short.yaml"))))
	equal(t, "upright card", []unit.Length{upright.Card.W, upright.Card.H}, []unit.Length{unit.MM(53.98), unit.MM(85.6)})
	equal(t, "upright lie", upright.Printer.Lie[site.Front], site.Lie{Leads: site.Top, First: site.Left})

	two := func(panels, black string) *design.Programme {
		s := edited(t, "ribbon: {panels: YMCKO}", "ribbon: {panels: "+panels+"}")
		s = strings.Replace(s, "black: objects\n", black, 1)
		return parse(t, strings.Replace(s, "readers:", "  back: [{text: Return to the ferry office, box: [5, 25, 70, 5], size: 3}]\nreaders:", 1))
	}
	for _, c := range []struct {
		panels, black string
		again         bool
		want          [2]site.Rule
	}{
		{"YMCKOK", "black: objects\n", false, [2]site.Rule{site.Objects, site.All}},
		{"YMCKOK", "black: {front: dark, back: exact}\n", false, [2]site.Rule{site.Dark, site.Exact}},
		{"YMCKO", "black: exact\n", true, [2]site.Rule{site.Exact, site.Exact}},
		{"KO", "", true, [2]site.Rule{site.All, site.All}},
		{"YMC", "", true, [2]site.Rule{}},
	} {
		p := two(c.panels, c.black)
		equal(t, c.panels+" back again", p.Ribbon.BackAgain, c.again)
		equal(t, c.panels+" rules", [2]site.Rule{p.Black[0].Rule, p.Black[1].Rule}, c.want)
	}

	for src, want := range map[string]design.Condition{
		`{field: a, is: ""}`:  {Field: "a", Not: true},
		`{field: a, not: ""}`: {Field: "a"},
		`{field: a, is: 007}`: {Field: "a", Equals: "007"},
	} {
		got := *parse(t, edited(t, "size: 4}", "size: 4, show: "+src+"}")).Faces[site.Front].Elements[0].Show
		got.Pos = design.Pos{}
		equal(t, src, got, want)
	}
}

func TestTemplateBraces(t *testing.T) {
	p := parse(t, edited(t, `text: "{full}"`, `text: "{{{full}}} of {{x}}"`))
	equal(t, "parts", p.Faces[site.Front].Elements[0].Text.Text.Parts,
		[]design.Part{{Literal: "{"}, {Field: "full"}, {Literal: "} of {x}"}})
}
