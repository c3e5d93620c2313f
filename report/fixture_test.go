package report

import (
	"image"
	"image/color"
	"math"
	"testing"

	"unspool/code"
	"unspool/design"
	"unspool/grade"
	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// An ID-1 face fed along its long edge, at 300 dpi and, where a test does not
// look at its dots, at a quarter of that.
var (
	fine   = plane.Grid{W: 1012, H: 638, DX: 300, DY: 300}
	coarse = plane.Grid{W: 253, H: 160, DX: 75, DY: 75}
)

func panelsOf(letters string) (out []site.Panel) {
	kinds := map[rune]site.Panel{
		'Y': {Kind: site.Yellow, Name: "yellow dye"}, 'M': {Kind: site.Magenta, Name: "magenta dye"}, 'C': {Kind: site.Cyan, Name: "cyan dye"},
		'K': {Kind: site.BlackResin, Name: "black resin"}, 'O': {Kind: site.Overlay, Name: "clear overlay"},
	}
	for _, l := range letters {
		p := kinds[l]
		p.Letter = byte(l)
		out = append(out, p)
	}
	return out
}

// programme is the Sundhaven crew card as a literal value.
func programme(rule site.Rule) *design.Programme {
	p := &design.Programme{
		File: "programme.yaml", Name: "Sundhaven crew card 2027",
		Card:    site.Card{W: unit.MM(85.6), H: unit.MM(53.98)},
		Printer: site.Printer{Head: 300, Feed: 300},
		Ribbon: site.Ribbon{Panels: panelsOf("YMCKOK"), Carbon: site.CarbonYes, Pitch: unit.MM(95), Yield: 200, Price: 6200,
			Currency: "EUR"},
		Faces:  [2]*design.Face{{}, {Side: site.Back}},
		Roster: design.Roster{File: "crew.csv"},
		Assumed: []string{
			"Marks grow by 20 µm along the feed and 10 µm across it.",
			"The edge of a dye dot is blurred by 35 µm, that of a resin dot by 12 µm.",
		},
	}
	p.Black = [2]site.Black{{Rule: rule, Limit: 48}, {Rule: site.All}}
	p.Readers = []site.Reader{
		{Name: "Quay clock", Kind: site.Slot, Peak: 940, Width: 45, Least: 1.5},
		{Name: "Deck hand-held", Kind: site.Hand, Peak: 660, Width: 20, Least: 1.5},
		{Name: "Stores counter", Kind: site.Counter, Peak: 630, Width: 18, Least: 2.5},
	}
	return p
}

var codes = []proof.CodeRef{{Side: site.Front, Name: "number"}, {Side: site.Back, Name: "stores"}}

func graded(v float64, text string) grade.Grade {
	return grade.Grade{Value: v, Letter: grade.Letter(v), Text: text}
}

func cell(c, r int, v proof.Verdict, g string, value float64, cause proof.Cause) proof.Cell {
	out := proof.Cell{Code: c, Reader: r, Lowest: value}
	out.Verdicts[v] = 60
	out.Worst = proof.Reading{Code: c, Reader: r, Verdict: v, Cause: cause, Grade: graded(value, g)}
	return out
}

// right, muchResin and littleResin are three set-ups of the same cards.
func right() *proof.Summary {
	s := &proof.Summary{Programme: programme(site.Objects), Codes: codes, Cards: 60, Sizes: make([]proof.CodeSizes, len(codes))}
	s.Readers = s.Programme.Readers
	s.Cells = []proof.Cell{
		cell(0, 0, proof.Reads, "3.6/05/940", 3.6, proof.Cause{}), cell(0, 1, proof.Reads, "3.7/05/660", 3.7, proof.Cause{}),
		cell(0, 2, proof.NotMeant, "", 4, proof.Cause{}), cell(1, 0, proof.NotMeant, "", 4, proof.Cause{}),
		cell(1, 1, proof.NotMeant, "", 4, proof.Cause{}), cell(1, 2, proof.Reads, "3.2/05/630", 3.2, proof.Cause{}),
	}
	s.Need = ribbon.Need(s.Programme.Ribbon, 60, true, true)
	s.Advice = advice(site.Objects)
	s.Groups = []proof.Group{{Finding: proof.Finding{ID: "margin", Level: proof.Note, Element: "number", Reader: "Quay clock",
		Measure: say.Words("61 µm of growth until grade C is lost"), Limit: say.Words("20 µm assumed"), Detail: say.Words("the bars may grow by 61 µm before the grade falls below C")}, Cards: 3, Rows: []int{0, 29, 59}},
		{Finding: proof.Finding{ID: "text-shrunk", Level: proof.Note, Element: "name", Measure: say.Words("2.9 mm"), Limit: say.Words("3.4 mm"), Detail: say.Words("the name is set smaller so that it fits")}, Cards: 2, Rows: []int{11, 40}}}
	return s
}

func advice(now site.Rule) (out []proof.Advice) {
	breaks := map[site.Rule][]string{
		site.NoRule: {"Quay clock does not read 60 of 60 cards"},
		site.Exact:  {"photos lose up to 212 dots to resin, on 9 of 60 cards"},
		site.Dark:   {"photos lose up to 41306 dots to resin, on 37 of 60 cards"},
		site.All:    {"photos lose up to 153210 dots to resin, on 60 of 60 cards"},
	}
	for _, r := range site.Rules {
		a := proof.Advice{Black: site.Black{Rule: r, Limit: 48}, Current: r == now, Breaks: breaks[r], Good: breaks[r] == nil}
		if r == site.NoRule {
			a.Fails = 60
		} else if breaks[r] != nil {
			a.PhotoCards, a.PhotoDots = 9, 212
		}
		out = append(out, a)
	}
	return out
}

func littleResin() *proof.Summary {
	s := right()
	s.Programme = programme(site.NoRule)
	s.Stopped = 60
	cause := proof.Cause{ID: "no-carbon", Reason: say.Words("its black is mixed from the dye panels, and at 940 nm dyes are as bright as the card"), Measure: say.Words("0 % of the bars in resin"), Limit: say.Words("100 %")}
	s.Cells[0] = cell(0, 0, proof.Fails, "0.0/05/940", 0, cause)
	s.Advice = advice(site.NoRule)
	s.Groups = append([]proof.Group{
		{Finding: proof.Finding{ID: "no-carbon", Level: proof.Stop, Element: "number", Reader: "Quay clock", Measure: cause.Measure, Limit: cause.Limit, Detail: cause.Reason,
			Where: plane.Box{X: unit.MM(18), Y: unit.MM(39), W: unit.MM(50.5), H: unit.MM(9)}}, Cards: 60, Rows: []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}},
		{Finding: proof.Finding{ID: "text-in-dye", Level: proof.Look, Element: "name", Measure: say.Words("100 % in dye"), Detail: say.Words("the black of the name is mixed from dyes")}, Cards: 60},
		{Finding: proof.Finding{ID: "nothing-in-resin", Level: proof.Look, Measure: say.Words("0 dots"), Detail: say.Words("nothing on the front goes to resin")}, Cards: 60},
	}, s.Groups...)
	return s
}

func muchResin() *proof.Summary {
	s := right()
	s.Programme = programme(site.Dark)
	s.Stopped = 37
	s.Advice = advice(site.Dark)
	s.Cells[1].Verdicts = [4]int{0, 52, 8, 0}
	s.Cells[1].WorstRow = 16
	s.Cells[1].Worst = proof.Reading{Code: 0, Reader: 1, Verdict: proof.Little, Grade: graded(1.3, "1.3/05/660"),
		Cause: proof.Cause{ID: "grade-below-least", Reason: say.Words("predicted grade 1.3/05/660 is below the least, 1.5 (C): modulation 0.46")}}
	s.Groups = append([]proof.Group{
		{Finding: proof.Finding{ID: "photo-in-resin", Level: proof.Stop, Element: "portrait", Measure: say.Words("41306 dots, 18 % of the photo"), Limit: say.Words("none"),
			Detail: say.Words("hair and shadows of the photo are printed as solid black")}, Cards: 37, Rows: []int{2, 6, 11, 12, 14, 17, 18, 20, 23, 24, 27, 30}},
	}, s.Groups...)
	return s
}

// view draws a side: a coloured band, a face of smooth tones, a line of text
// and a code whose bars are in resin, or in dye.
func view(t testing.TB, grid plane.Grid, s site.Side, resin bool) proof.View {
	t.Helper()
	v := proof.View{Side: s, Grid: grid, Eye: image.NewRGBA(image.Rect(0, 0, grid.W, grid.H))}
	amounts := map[byte][]uint8{}
	for _, l := range "YMCKO" {
		amounts[byte(l)] = make([]uint8, grid.Dots())
	}
	red, infrared := plane.Picture{Grid: grid, R: make([]float32, grid.Dots())}, plane.Picture{Grid: grid, R: make([]float32, grid.Dots())}
	bars := barsOf(t)
	k300 := 300 / int(grid.DX)
	for row := range grid.H {
		for col := range grid.W {
			i, x, y := grid.At(col, row), k300*col, k300*row
			c := ground(s, x, y)
			black := y > 480 && y < 590 && x >= 250 && x < 250+len(bars) && bars[x-250]
			black = black || s == site.Front && y > 250 && y < 262 && x > 420 && x < 800 && x%23 < 15
			k := black && resin
			if black {
				c = color.RGBA{24, 22, 22, 255}
			}
			v.Eye.SetRGBA(col, row, c)
			amounts['O'][i] = 255
			if k {
				amounts['K'][i] = 255
			} else {
				amounts['Y'][i], amounts['M'][i], amounts['C'][i] = 255-c.B, 255-c.G, 255-c.R
			}
			red.R[i], infrared.R[i] = 0.02+0.86*float32(c.R)/255, 0.86
			if k {
				infrared.R[i] = 0.04
			}
		}
	}
	v.Lights = []proof.LightView{{Name: "red 660 nm", NM: 660, Picture: red}, {Name: "infrared 940 nm", NM: 940, Picture: infrared}}
	set := panelsOf("YMCKO")
	if s == site.Back {
		set = panelsOf("K")
	}
	for _, p := range set {
		v.Panels = append(v.Panels, proof.PanelView{Panel: p, Amount: amounts[p.Letter]})
		v.Spent = append(v.Spent, ribbon.Frame{Panel: p, Side: s, Grid: grid, Gone: amounts[p.Letter]})
	}
	return v
}

func ground(s site.Side, x, y int) color.RGBA {
	fx, fy := float64(x), float64(y)
	if s == site.Back {
		return color.RGBA{255, 255, 255, 255}
	}
	if y < 110 {
		t := fx / 1012
		return color.RGBA{uint8(20 + 30*t), uint8(90 + 60*t), uint8(120 + 50*t), 255}
	}
	if x > 50 && x < 350 && y > 140 && y < 460 {
		d := math.Hypot((fx-200)/85, (fy-310)/110)
		shade := 0.65 + 0.35*math.Sin(fx/60)*math.Cos(fy/70)
		switch {
		case d < 1:
			return color.RGBA{uint8(190 * shade), uint8(140 * shade), uint8(110 * shade), 255}
		case d < 1.35 && y < 330:
			return color.RGBA{uint8(12 + 20*shade), uint8(8 + 12*shade), uint8(6 + 12*shade), 255}
		}
		return color.RGBA{uint8(190 + 30*shade), uint8(200 + 30*shade), uint8(210 + 30*shade), 255}
	}
	return color.RGBA{255, 255, 255, 255}
}

func barsOf(t testing.TB) (dots []bool) {
	t.Helper()
	k, ok := code.ByName("code39")
	if !ok {
		t.Fatal("no code39")
	}
	l, err := k.Encode("SH-20417", code.Options{})
	if err != nil {
		t.Fatal(err)
	}
	size, err := code.PickSize(k, l, 300, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	widths, err := l.Widths(size)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range widths {
		for range w {
			dots = append(dots, i%2 == 0)
		}
	}
	return dots
}

// input is a report of s with one sample card.
func input(t testing.TB, grid plane.Grid, s *proof.Summary) Input {
	t.Helper()
	resin := s.Programme.Black[site.Front].Rule != site.NoRule
	return Input{Summary: s, Invented: true, Command: "unspool proof",
		Samples: []Sample{{Row: -1, Title: "An invented person", Views: []proof.View{view(t, grid, site.Front, resin), view(t, grid, site.Back, true)}}}}
}

// setUps are the three set-ups side by side.
func setUps(t testing.TB) []NamedInput {
	t.Helper()
	return []NamedInput{
		{"Right", "Code and text come from resin, the photo from dye: every reader is content and faces stay smooth.", "right/report.html", input(t, coarse, right())},
		{"Too much in resin", "Every reader is content, but dark hair and shadows turn to hard black blotches.", "too-much/report.html", input(t, coarse, muchResin())},
		{"Too little in resin", "To the eye and to red light the code is black; to the infrared clock it is not there.", "too-little/report.html", input(t, coarse, littleResin())},
	}
}

// cards are a card that reads everywhere and one with a code that fails.
func cards() []proof.Card {
	scan := grade.Scan{Rmin: 0.041, Rmax: 0.862, GT: 0.4515, SC: 0.821, ECmin: 0.6, MOD: 0.7308, Defects: 0.02, Decoded: true, QuietLeft: 10.4, QuietRight: 11.2,
		Grade: 3.6, Deciding: grade.Decodability, Why: say.Words("decodability 0.58")}
	scan.Reading.Decodability = 0.58
	for p := range grade.Parameters {
		scan.Grades[p] = 4
	}
	scan.Grades[grade.Decodability] = 3.6
	ok := proof.Reading{Verdict: proof.Reads, Grade: graded(3.6, "3.6/05/940"), Text: "SH-20417", Lines: 5, Good: 5, Worst: scan}
	bad := littleResin().Cells[0].Worst
	bad.Worst = grade.Scan{Rmin: 0.85, Rmax: 0.86, SC: 0.01, MOD: math.NaN(), Why: say.Words("no Code 39 decodes")}
	var out []proof.Card
	for i, r := range []proof.Reading{ok, bad} {
		c := proof.Card{Row: i, Key: []string{"00417", "=2+5"}[i]}
		for code := range codes {
			for reader := range 3 {
				n := proof.Reading{Code: code, Reader: reader}
				if code == 0 && reader == 0 {
					n = r
				}
				c.Readings = append(c.Readings, n)
			}
		}
		out = append(out, c)
	}
	for _, g := range littleResin().Groups {
		f := g.Finding
		f.Row, f.Card = 1, out[1].Key
		out[1].Findings = append(out[1].Findings, f)
	}
	return out
}
