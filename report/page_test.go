package report

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"unspool/proof"
	"unspool/say"
	"unspool/site"
)

// pages are every page of the package, made from the same run.
func pages(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for name, s := range map[string]*proof.Summary{"right": right(), "too much": muchResin(), "too little": littleResin()} {
		page, err := HTML(input(t, coarse, s))
		if err != nil {
			t.Fatal(err)
		}
		out["report, "+name] = page
	}
	var err error
	if out["ribbon"], err = RibbonSheets(input(t, coarse, right())); err != nil {
		t.Fatal(err)
	}
	if out["comparison"], err = Compare(setUps(t)); err != nil {
		t.Fatal(err)
	}
	return out
}

// walk visits every element of a page.
func walk(t testing.TB, page []byte, visit func(*html.Node)) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			visit(n)
		}
	}
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// words is all text of a page but that of its style, white space made single.
func words(t testing.TB, page []byte) string {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			b.WriteString(n.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// A page is one file: it fetches nothing, runs nothing, and links only within
// itself and to the reports beside it.
func TestPagesNeedNothingElse(t *testing.T) {
	local := regexp.MustCompile(`^(#|data:image/png;base64,|[a-z-]+/report\.html$)`)
	for name, page := range pages(t) {
		walk(t, page, func(n *html.Node) {
			switch n.Data {
			case "script", "link", "iframe", "object", "embed", "base", "form":
				t.Errorf("%s: has a <%s>", name, n.Data)
			}
			for _, a := range n.Attr {
				switch {
				case strings.HasPrefix(a.Key, "on"):
					t.Errorf("%s: <%s %s>", name, n.Data, a.Key)
				case (a.Key == "src" || a.Key == "href") && !local.MatchString(a.Val):
					t.Errorf("%s: <%s %s=%.60q>", name, n.Data, a.Key, a.Val)
				}
			}
		})
		for _, u := range regexp.MustCompile(`url\(([^)]{0,12})|@import`).FindAllStringSubmatch(string(page), -1) {
			if u[1] != "data:font/wo" && u[1] != "#spectrum" {
				t.Errorf("%s: style refers to %q", name, u[0])
			}
		}
	}
}

// What a page shows it also says (WCAG 2.2: 1.1.1 text for pictures, 1.3.1 and
// 2.4.6 headings; common practice: no level left out).
func TestPagesSpeak(t *testing.T) {
	for name, page := range pages(t) {
		level, ids := 0, map[string]bool{}
		walk(t, page, func(n *html.Node) {
			if id := attr(n, "id"); id != "" {
				if ids[id] {
					t.Errorf("%s: id %q twice", name, id)
				}
				ids[id] = true
			}
			if n.Data == "img" && attr(n, "alt") == "" || n.Data == "image" && attr(n, "aria-label") == "" {
				t.Errorf("%s: a picture without words", name)
			}
			if n.Data == "html" && attr(n, "lang") != "en" {
				t.Errorf("%s: no language", name)
			}
			if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
				h := int(n.Data[1] - '0')
				if h > level+1 || h == 1 && level != 0 {
					t.Errorf("%s: heading %d after %d", name, h, level)
				}
				level = h
			}
		})
		if level == 0 {
			t.Errorf("%s: no heading", name)
		}
	}
}

// Every finding stands in the report with its remedy, count, measure, limit and
// source; no key does.
func TestReportTellsEveryFinding(t *testing.T) {
	s := littleResin()
	for i := range s.Groups {
		s.Groups[i].Card = "KEY-00417"
	}
	page, err := HTML(input(t, coarse, s))
	if err != nil {
		t.Fatal(err)
	}
	text := words(t, page)
	for _, g := range s.Groups {
		e := proof.About(g.ID)
		for _, want := range []string{e.Title, e.Source, sentence(e.Remedy), sentence(g.Detail.String()), g.Measure.String(), g.Limit.String(), share(g.Cards, s.Cards)} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is missing", g.ID, want)
			}
		}
	}
	for _, want := range []string{"rows 1, 30 and 60", "predicted 0.0/05/940", "predicted, before wear and print faults", "18.60 EUR", "34.2 m"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
	if bytes.Contains(page, []byte("KEY-00417")) {
		t.Error("the page names a card by its key")
	}
}

// A page says whose card it shows.
func TestReportSaysWhoseCard(t *testing.T) {
	for _, c := range []struct {
		invented bool
		row      int
		want     string
	}{
		{true, -1, "every code has a gap on purpose"},
		{false, 4, "Row 5 of the roster, a real person"},
		{false, -1, "the codes are whole"},
	} {
		in := input(t, coarse, right())
		in.Invented, in.Samples[0].Row = c.invented, c.row
		page, err := HTML(in)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(words(t, page), c.want) {
			t.Errorf("invented %v, row %d: %q is missing", c.invented, c.row, c.want)
		}
	}
}

// Text from a programme stays text.
func TestHostileTextStaysText(t *testing.T) {
	const evil = `</style></title><script>alert(1)</script><img src=x onerror=alert(1)>"'` + "`{{.}}"
	s := muchResin()
	s.Programme.Name, s.Programme.File, s.Programme.Assumed = evil, evil, []string{evil}
	s.Programme.Ribbon.Currency = evil
	for i := range s.Readers {
		s.Readers[i].Name = evil
	}
	s.Codes = []proof.CodeRef{{Name: evil}, {Name: evil, Side: site.Back}}
	for i := range s.Groups {
		f := &s.Groups[i].Finding
		f.Element, f.Reader = evil, evil
		f.Detail, f.Measure, f.Limit, f.Remedy = say.Words(evil), say.Data(evil), say.Words(evil), say.Words(evil)
	}
	for i := range s.Cells {
		s.Cells[i].Worst.Reason, s.Cells[i].Worst.Grade.Text = say.Words(evil), evil
	}
	for i := range s.Advice {
		s.Advice[i].Breaks = []string{evil}
	}
	in := input(t, coarse, s)
	in.Command, in.Samples[0].Title = evil, evil
	for i := range in.Samples[0].Views {
		for j := range in.Samples[0].Views[i].Panels {
			in.Samples[0].Views[i].Panels[j].Panel.Name, in.Samples[0].Views[i].Spent[j].Panel.Name = evil, evil
		}
	}
	page, err := HTML(in)
	sheets, err2 := RibbonSheets(in)
	compared, err3 := Compare([]NamedInput{{evil, evil, "javascript:alert(1)", in}})
	if err != nil || err2 != nil || err3 != nil {
		t.Fatal(err, err2, err3)
	}
	for i, p := range [][]byte{page, sheets, compared} {
		walk(t, p, func(n *html.Node) {
			if n.Data == "script" || attr(n, "onerror") != "" || attr(n, "src") == "x" || strings.HasPrefix(attr(n, "href"), "javascript:") {
				t.Errorf("page %d: <%s> came out of a text", i, n.Data)
			}
		})
		if !strings.Contains(words(t, p), strings.Join(strings.Fields(evil), " ")) {
			t.Errorf("page %d: the text itself is gone", i)
		}
	}
}

// A page tells of the files that lie beside it and of no others.
func TestPageNamesWhatLiesBesideIt(t *testing.T) {
	in := input(t, coarse, littleResin())
	for _, beside := range [][]string{nil, {"cards.csv"}, {"ribbon.pdf"}, {"cards.csv", "ribbon.pdf"}} {
		in.Beside = beside
		page, err := HTML(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range []string{"cards.csv", "proof.json", "ribbon.html", "ribbon.pdf", "explanation.pdf"} {
			if got, want := strings.Contains(words(t, page), file), slices.Contains(beside, file); got != want {
				t.Errorf("beside %v the page tells of %s: %v", beside, file, got)
			}
		}
	}
}

// The same values give the same bytes.
func TestSameBytes(t *testing.T) {
	first := pages(t)
	for name, page := range pages(t) {
		if !bytes.Equal(page, first[name]) {
			t.Errorf("%s differs from one time to the next", name)
		}
	}
}

// Text stands out from the paper by 4.5 to 1 and lines that carry meaning by 3
// to 1, in light and in dark (WCAG 2.2, 1.4.3 AA and 1.4.11).
func TestContrast(t *testing.T) {
	schemes := regexp.MustCompile(`--paper:#(\w+);--ink:#(\w+);--soft:#(\w+);--line:#\w+;--unseen:#(\w+)`).FindAllStringSubmatch(string(asset("look.css")), -1)
	if len(schemes) != 3 { // light, dark, print
		t.Fatalf("%d schemes of colours in look.css", len(schemes))
	}
	for i, s := range schemes {
		for j, least := range []float64{4.5, 4.5, 3} {
			if c := contrast(t, s[1], s[2+j]); c < least {
				t.Errorf("scheme %d: #%s on #%s has a contrast of %.2f, needs %.1f", i, s[2+j], s[1], c, least)
			}
		}
	}
}

// contrast is the ratio of WCAG 2.2, definition of contrast ratio and relative
// luminance.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	if len(colour) == 3 {
		colour = fmt.Sprintf("%c%c%c%c%c%c", colour[0], colour[0], colour[1], colour[1], colour[2], colour[2])
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v, err := strconv.ParseUint(colour[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(v) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func BenchmarkHTML(b *testing.B) {
	in := input(b, fine, littleResin())
	for b.Loop() {
		if _, err := HTML(in); err != nil {
			b.Fatal(err)
		}
	}
}
