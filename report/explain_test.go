package report

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unspool/plane"
	"unspool/proof"
	"unspool/site"
)

// explained is the Sundhaven card three ways: the code in resin twice, once in
// dye.
func explained(t testing.TB, g plane.Grid) Explanation {
	s := right()
	e := Explanation{Programme: s.Programme, Readers: s.Readers, Invented: true}
	for n, rule := range [...]site.Rule{site.Objects, site.Dark, site.NoRule} {
		r := proof.Ruling{Black: site.Black{Rule: rule}, View: view(t, g, site.Front, n < 2),
			Readings: []proof.Reading{{Reader: 0, Verdict: proof.Reads}, {Reader: 1, Verdict: proof.Reads}, {Reader: 2}}}
		switch n {
		case 1:
			r.Photo = 41306
		case 2:
			r.Readings[0].Verdict = proof.Fails
		}
		e.Ways = append(e.Ways, r)
	}
	return e
}

// The page opens, is one A4 sheet, says what it must, and is small enough to
// send.
func TestExplanationPDF(t *testing.T) {
	made, err := ExplanationPDF(explained(t, fine))
	if err != nil {
		t.Fatal(err)
	}
	_, info, words := opened(t, made)
	for _, want := range []string{"Pages:           1\n", "(A4)", "Tagged:          yes", "Why a card reader may not see what you see"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
	words = strings.Join(strings.Fields(words), " ")
	for _, want := range []string{"Right", "Too much resin", "Too little resin", "By eye", "In red light", "In infrared light", "On the used ribbon",
		"hard black patches", "but an infrared", "Quay clock, 940 nm: does not read", "Deck hand-held, 660 nm: reads", "Print like this.", "The person is invented", "before wear and print faults"} {
		if !strings.Contains(words, want) {
			t.Errorf("pdftotext lacks %q:\n%s", want, words)
		}
	}
	if strings.Contains(words, "Stores counter") {
		t.Error("a reader is named that reads no code of this side")
	}
	again, err := ExplanationPDF(explained(t, fine))
	if err != nil || !bytes.Equal(made, again) || len(made) > 1_500_000 {
		t.Errorf("%d bytes, then %d (%v)", len(made), len(again), err)
	}
}

// Where nobody has said whether the resin is carbon, the right way says that it is
// drawn as if it were, and neither that it fails nor that it reads.
func TestExplanationOfUnknownResin(t *testing.T) {
	for _, c := range []struct {
		photo int
		want  proof.Verdict
	}{{0, proof.NotMeant}, {9, proof.Fails}} {
		e := Explanation{Programme: right().Programme, Readers: right().Readers, Ways: []proof.Ruling{{Black: site.Black{Rule: site.Objects}, Photo: c.photo,
			Readings: []proof.Reading{{Verdict: proof.Fails, Cause: proof.Cause{ID: "resin-unknown"}}, {Reader: 1, Verdict: proof.Reads}}}}}
		w := newWay(e, 0)
		if w.Verdict != c.want || len(w.Readers) != 2 || w.Readers[0].Verdict != proof.NotMeant || !strings.HasSuffix(w.Readers[0].Says, ": not known") {
			t.Errorf("%d photo dots: %+v", c.photo, w)
		}
		if said := strings.Contains(w.Seen, "as if it were carbon"); said != (c.photo == 0) {
			t.Errorf("%d photo dots: it says %q", c.photo, w.Seen)
		}
	}
}

// What the page shows is true: in its infrared row zbarimg reads the code where
// it is in resin, and nothing where it is in dye, though there too it reads it in
// daylight.
func TestExplanationShowsWhatReadersSee(t *testing.T) {
	made, err := ExplanationPDF(explained(t, fine))
	if err != nil {
		t.Fatal(err)
	}
	file := save(t, t.TempDir(), "made.pdf", made)
	for n := range 3 {
		for _, row := range []struct {
			name      string
			top, high float64
			reads     bool
		}{{"in daylight", 72, 45, true}, {"in infrared light", 158, 45, n < 2}} {
			to := filepath.Join(t.TempDir(), "part")
			dot := func(mm float64) string { return fmt.Sprint(int(mm / 25.4 * 600)) }
			run(t, "pdftoppm", "-r", "600", "-x", dot(explainLeft+float64(n)*(columnWide+gutter)-1), "-y", dot(row.top), "-W", dot(columnWide+2), "-H", dot(row.high), "-png", "-singlefile", file, to)
			said, _ := exec.Command("zbarimg", "-q", "--raw", to+".png").Output() // status 4: nothing read
			if got := strings.TrimSpace(string(said)) == "SH-20417"; got != row.reads {
				t.Errorf("column %d, %s: zbarimg says %q", n+1, row.name, said)
			}
		}
	}
}

// Upright cards, cards without readers, lamps or a black panel, many readers
// with long names: still one page.
func TestExplanationPDFStaysOnePage(t *testing.T) {
	for name, change := range map[string]func(*Explanation){
		"upright": func(e *Explanation) {
			e.Programme.Card.W, e.Programme.Card.H = e.Programme.Card.H, e.Programme.Card.W
			for n := range e.Ways {
				e.Ways[n].View = view(t, plane.Grid{W: 160, H: 253, DX: 75, DY: 75}, site.Front, n < 2)
			}
		},
		"no readers": func(e *Explanation) { e.Readers = nil; e.Ways[2].Readings = nil },
		"no lamps, no black panel": func(e *Explanation) {
			for n := range e.Ways {
				e.Ways[n].View.Lights, e.Ways[n].View.Spent = nil, nil
			}
		},
		"many readers": func(e *Explanation) {
			for i := range 5000 {
				e.Readers = append(e.Readers, site.Reader{Name: strings.Repeat("قارئ long name ", 20), Peak: 850})
				e.Ways[0].Readings = append(e.Ways[0].Readings, proof.Reading{Reader: 3 + i, Verdict: proof.Fails})
			}
		},
		"odd name, real": func(e *Explanation) { e.Programme.Name, e.Invented = strings.Repeat("Ж\x00(\\", 500), false },
	} {
		e := explained(t, coarse)
		change(&e)
		made, err := ExplanationPDF(e)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if _, info, words := opened(t, made); !strings.Contains(info, "Pages:           1\n") || !strings.Contains(words, "See for yourself") {
			t.Errorf("%s:\n%s%s", name, info, words)
		}
	}
	if _, err := ExplanationPDF(Explanation{}); err == nil {
		t.Error("a page without set-ups was made")
	}
}

// The rules shown are those that fit the run: what was tried and works, the
// programme's own before others, and the one that takes too much of its photos.
func TestRulesToExplain(t *testing.T) {
	for _, c := range []struct {
		name        string
		own         site.Rule
		works       []site.Rule
		photos      []site.Rule // that put a photo dot into resin
		right, much site.Rule
	}{
		{"nothing tried", site.Dark, nil, nil, site.Objects, site.Dark},
		{"none works", site.Zones, nil, []site.Rule{site.Dark, site.All}, site.Objects, site.Dark},
		{"its own works", site.Zones, []site.Rule{site.Objects, site.Zones}, []site.Rule{site.Dark, site.All}, site.Zones, site.Dark},
		{"its own fails", site.Objects, []site.Rule{site.Exact}, []site.Rule{site.Dark, site.All}, site.Exact, site.Dark},
		{"a rule that takes photos is not right", site.Dark, []site.Rule{site.Dark, site.Zones}, []site.Rule{site.All}, site.Zones, site.All},
	} {
		s := right()
		s.Programme.Black[site.Front].Rule, s.Advice = c.own, nil
		for _, r := range site.Rules {
			a := proof.Advice{Side: site.Front, Black: site.Black{Rule: r}, Good: slices.Contains(c.works, r)}
			if slices.Contains(c.photos, r) {
				a.PhotoCards = 1
			}
			s.Advice = append(s.Advice, a)
		}
		if got := recommended(s, site.Front); got != c.right {
			t.Errorf("%s: right is %s, want %s", c.name, got, c.right)
		}
		if got := greedy(s, site.Front); got != c.much {
			t.Errorf("%s: too much is %s, want %s", c.name, got, c.much)
		}
	}
}

func BenchmarkExplanationPDF(b *testing.B) {
	e := explained(b, fine)
	for b.Loop() {
		if _, err := ExplanationPDF(e); err != nil {
			b.Fatal(err)
		}
	}
}
