package web

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"unspool/design"
	"unspool/folder"
	"unspool/plane"
	"unspool/proof"
	"unspool/unit"
)

// altered is a bench on the demo with pieces of its card file replaced.
func altered(t *testing.T, pieces ...string) *Bench {
	t.Helper()
	_, at := ownBench(t)
	text := read(t, at)
	for i := 0; i < len(pieces); i += 2 {
		if strings.Count(text, pieces[i]) != 1 {
			t.Fatalf("%q stands %d times in the demo", pieces[i], strings.Count(text, pieces[i]))
		}
		text = strings.Replace(text, pieces[i], pieces[i+1], 1)
	}
	write(t, at, text)
	f, err := folder.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return bench(t, func(o *Options) { o.Folder = f })
}

type proposal struct{ Remedy *remedy }

// remedyFor asks for the remedy of the first finding of a name on the first card
// or, with do, for it to be done.
func remedyFor(t *testing.T, b *Bench, id string, do bool) *remedy {
	t.Helper()
	s := b.now.Load()
	card, err := s.card(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.conditionOf(card).findings {
		if f.ID == id {
			form := cureForm{Revision: s.revision, ID: id, Side: f.Side.String(), Element: f.Element, Reader: f.Reader, Do: do}
			if do {
				if now := post[benchForm](t, b, "/api/remedy", form); now.Revision != s.revision+1 || !now.Undo || !now.Unsaved {
					t.Errorf("the bench answers with revision %d", now.Revision)
				}
				return nil
			}
			return post[proposal](t, b, "/api/remedy", form).Remedy
		}
	}
	t.Fatalf("the card has no finding %s", id)
	return nil
}

// found counts a finding on the first card.
func found(t *testing.T, b *Bench, id string) (n int) {
	t.Helper()
	s := b.now.Load()
	card, err := s.card(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.conditionOf(card).findings {
		if f.ID == id {
			n++
		}
	}
	return n
}

const (
	crewCode  = "box: [30, 36.4, 52, 11], x: auto, align: middle, backing: true"
	holderBox = "box: [31, 14, 51, 6.5], size: 5, floor: 3.2"
)

// What the bench offers to do takes the finding off the card by changing the one
// piece of the file that is meant, and undo brings both back. The lengths are
// hand counts: Code 39 with six digits has 8 characters of 6 narrow and 3 wide
// elements, 7 gaps and two quiet zones of 10 X (ISO/IEC 16388).
func TestRemedies(t *testing.T) {
	for _, c := range []struct {
		id     string
		pieces []string
		do     string
		then   string // a piece of the file afterwards
	}{
		{"no-carbon", []string{"black: objects", "black: none"}, "resin", "printed: crew number, send: resin}"},
		{"no-carbon", []string{"printed: crew number}", "printed: crew number, send: dye}"}, "resin", "printed: crew number, send: resin}"},
		{"no-carbon", []string{"black: objects", "black: none", "code: code39, text", "code: qr, text", "kind: slot", "kind: camera", "accepts: [{code: code39, length: 6}]\n", "accepts: [qr]\n",
			"    side: front\n    from: bottom\n    line: 11\n    tolerance: 2\n", ""}, "resin", "printed: crew number, send: resin}"},
		{"part-carbon", []string{"black: objects", "black: {rule: zones, zones: [[30, 36, 26, 12]]}"}, "resin", "send: resin"},
		{"text-in-dye", []string{"black: objects", "black: none"}, "resin", "send: resin"},
		{"dark-ground", []string{"    - {name: crew code", "    - {name: ground, rectangle: [28, 34, 56, 14], fill: \"#40707a\"}\n    - {name: crew code", "align: middle, backing: true, ", "align: middle, "}, "backing", "backing: true"},
		// 3 dots of 300 dpi, wide bars of 7: 8 x (6 x 3 + 3 x 7) + 7 x 3 + 20 x 3 = 393
		// dots, 33.3 mm.
		{"x-below-reader", []string{crewCode, strings.Replace(crewCode, "52, 11", "26, 11", 1)}, "widen", "33.3, 11]"},
		// QR version 1 with its quiet zone has 21 + 8 modules (ISO/IEC 18004), of 3 dots
		// each 87 dots, 7.37 mm both ways.
		{"x-below-reader", []string{crewCode, strings.Replace(crewCode, "30, 36.4, 52, 11", "50, 39, 5, 5", 1), "code: code39, text", "code: qr, text", "kind: slot", "kind: camera", "accepts: [{code: code39, length: 6}]\n", "accepts: [qr]\n",
			"    side: front\n    from: bottom\n    line: 11\n    tolerance: 2\n", ""}, "widen", "7.4, 7.4]"},
		{"code-too-wide", []string{crewCode, strings.Replace(crewCode, "52, 11", "12, 11", 1)}, "widen", ", 11]"},
		// 2 dots would be no single dot any more, and no reader's least X.
		{"x-below-head", []string{"11], x: auto", "11], x: 1"}, "x", "x: 3,"},
		{"x-below-open", []string{"11], x: auto", "11], x: 2"}, "x", "x: 3,"},
		{"low-bars", []string{crewCode, strings.Replace(crewCode, "52, 11", "52, 4", 1)}, "heighten", "[30, 35.45, 52, 5.9]"},
		{"off-face", []string{"dpi: 300", "dpi: 300\n  unprinted: 1", holderBox, strings.Replace(holderBox, "[31, 14", "[34.6, 14", 1)}, "inwards", "[33.6, 14, 51, 6.5]"},
		{"text-cut", []string{holderBox, "box: [31, 14, 14, 6.5], size: 5"}, "widen", "[31, 14, "},
		{"number-differs", []string{`crew number, text: "{number}"`, `crew number, text: "{name}"`}, "print", `crew number, text: "{number}"`},
	} {
		t.Run(c.id, func(t *testing.T) {
			b := altered(t, c.pieces...)
			before, was := text(b), found(t, b, c.id)
			offer := remedyFor(t, b, c.id, false)
			if offer == nil || offer.Do != c.do || text(b) != before {
				t.Fatalf("offers %+v", offer)
			}
			remedyFor(t, b, c.id, true)
			if now := found(t, b, c.id); now >= was || !strings.Contains(text(b), c.then) {
				t.Errorf("found %d times before and %d afterwards, with\n%s", was, now, text(b))
			}
			post[benchForm](t, b, "/api/undo", obj{})
			if text(b) != before || found(t, b, c.id) != was {
				t.Error("undo does not bring all back")
			}
		})
	}
}

// A number that ends in its check digit already is taken as it is. 18, 34, 42, 26
// and 59 end in the Luhn digit of what stands before it, by hand.
func TestRemedyOfSecondCheck(t *testing.T) {
	b, at := ownBench(t)
	lines := strings.SplitAfterN(read(t, filepath.Join(filepath.Dir(at), "crew.csv")), "\n", 7)
	head := strings.Split(lines[0], ",")
	for i, number := range []string{"000018", "000034", "000042", "000026", "000059"} {
		cells := strings.Split(lines[1+i], ",")
		for k := range head {
			if strings.TrimSpace(head[k]) == "number" {
				cells[k] = number
			}
		}
		lines[1+i] = strings.Join(cells, ",")
	}
	write(t, filepath.Join(filepath.Dir(at), "crew.csv"), strings.Join(lines[:6], ""))
	write(t, at, strings.NewReplacer("code: code39, text", "code: codabar, check: luhn, text", "{code: code39, length: 6}", "codabar").Replace(read(t, at)))
	f, err := folder.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	b = bench(t, func(o *Options) { o.Folder = f })
	if remedyFor(t, b, "check-twice", true); found(t, b, "check-twice") != 0 || !strings.Contains(text(b), "given: true") {
		t.Errorf("found still, with\n%s", text(b))
	}
}

// What the ribbon's maker says of its resin is taken at the user's word, and undo
// takes it back.
func TestStatedResin(t *testing.T) {
	for _, resin := range []string{"carbon", "not carbon"} {
		b := altered(t, "resin: carbon", "resin: unknown")
		before := text(b)
		if found(t, b, "resin-unknown") == 0 {
			t.Fatal("the resin is known")
		}
		post[benchForm](t, b, "/api/remedy", cureForm{Revision: b.now.Load().revision, State: resin})
		if found(t, b, "resin-unknown") != 0 || text(b) != strings.Replace(before, "resin: unknown", "resin: "+resin, 1) {
			t.Errorf("%s: the file then is\n%s", resin, text(b))
		}
		if blamed := found(t, b, "no-carbon") > 0; blamed != (resin == "not carbon") {
			t.Errorf("%s: an infrared reader is said to see no bars: %t", resin, blamed)
		}
		post[benchForm](t, b, "/api/undo", obj{})
		if text(b) != before {
			t.Error("undo does not bring all back")
		}
	}
}

// Where the bench can do nothing, or would do harm, it offers nothing.
func TestNoRemedy(t *testing.T) {
	for _, c := range []struct {
		name, id string
		pieces   []string
	}{
		{"resin without carbon", "no-carbon", []string{"resin: carbon", "resin: not carbon"}},
		{"a stop of no element", "nothing-in-resin", []string{"black: objects", "black: none"}},
		{"no room", "x-below-reader", []string{crewCode, strings.Replace(crewCode, "52, 11", "26, 11", 1), "    - {name: crew code",
			"    - {name: a, rectangle: [28, 34, 1.5, 14], stroke: black}\n    - {name: b, rectangle: [57, 34, 1.5, 14], stroke: black}\n    - {name: crew code"}},
		{"wider than the head", "off-face", []string{"dpi: 300", "dpi: 300\n  unprinted: 1", holderBox, strings.Replace(holderBox, "[31, 14, 51", "[0, 14, 85", 1)}},
		{"more than a field", "number-differs", []string{`crew number, text: "{number}"`, `crew number, text: "{name} {role}"`}},
	} {
		if offer := remedyFor(t, altered(t, c.pieces...), c.id, false); offer != nil {
			t.Errorf("%s: offers %+v", c.name, offer)
		}
	}
	b, at := ownBench(t)
	form := cureForm{Revision: 1, ID: "no-carbon", Side: "front", Element: "crew code", Reader: "Quay clock"}
	if offer := post[proposal](t, b, "/api/remedy", form).Remedy; offer != nil {
		t.Errorf("for what was not found it offers %+v", offer)
	}
	for want, body := range map[string]string{
		"409 the bench knows no remedy": `{"revision":1,"id":"no-carbon","side":"front","element":"crew code","do":true}`,
		"409 the programme has changed": `{"revision":2,"id":"no-carbon","side":"front"}`,
		"404 there is no such card":     `{"revision":1,"row":-1,"side":"front"}`,
		"404 there is no such side":     `{"revision":1,"side":""}`,
		"400 the request":               `{"revision":1,"side":"front","force":true}`,
	} {
		status, says, _ := strings.Cut(want, " ")
		if said := tell(t, ask(b, request(http.MethodPost, "/api/remedy", body))); !strings.HasPrefix(said, status) || !strings.Contains(said, says) {
			t.Errorf("%s: %s", body, said)
		}
	}
	if data, err := os.ReadFile(at); err != nil || string(data) != text(b) {
		t.Error("the programme is changed")
	}
}

// A cure is none where the finding stays, another comes or a reader reads less.
func TestCuredBy(t *testing.T) {
	f := proof.Finding{ID: "no-carbon", Level: proof.Stop, Element: "code", Reader: "clock"}
	with := func(level proof.Level, id, reader string) proof.Finding {
		return proof.Finding{ID: id, Level: level, Element: "code", Reader: reader}
	}
	read := func(v ...proof.Verdict) (rs []proof.Reading) {
		for i := range v {
			rs = append(rs, proof.Reading{Reader: i, Verdict: v[i]})
		}
		return rs
	}
	was := condition{[]proof.Finding{f, with(proof.Look, "low-bars", "hand")}, read(proof.Fails, proof.Little, proof.NotMeant)}
	for _, c := range []struct {
		name string
		is   condition
		want bool
	}{
		{"gone", condition{was.findings[1:], read(proof.Reads, proof.Little, proof.NotMeant)}, true},
		{"little to spare instead of a stop", condition{[]proof.Finding{with(proof.Look, "thin-margin", "clock")}, read(proof.Little, proof.Little, proof.NotMeant)}, true},
		{"still there", condition{was.findings, read(proof.Reads, proof.Reads, proof.NotMeant)}, false},
		{"another stop", condition{[]proof.Finding{with(proof.Stop, "code-cut", "clock")}, read(proof.Fails, proof.Little, proof.NotMeant)}, false},
		{"something else to look at", condition{[]proof.Finding{with(proof.Look, "on-keepout", "")}, read(proof.Reads, proof.Little, proof.NotMeant)}, false},
		{"graver than before", condition{[]proof.Finding{with(proof.Stop, "low-bars", "hand")}, read(proof.Reads, proof.Little, proof.NotMeant)}, false},
		{"another reader reads less", condition{nil, read(proof.Reads, proof.Fails, proof.NotMeant)}, false},
		{"another reader sees no code", condition{nil, read(proof.Reads)}, false},
		{"another reader is now to read it and does not", condition{nil, read(proof.Reads, proof.Little, proof.Fails)}, false},
	} {
		if got := was.curedBy(c.is, f); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func box(x, y, w, h float64) plane.Box {
	return plane.Box{X: unit.MM(x), Y: unit.MM(y), W: unit.MM(w), H: unit.MM(h)}
}

// A box grows as little as can be written, where there is room, and over nothing.
func TestRoomToGrow(t *testing.T) {
	for _, c := range []struct {
		name  string
		room  room
		need  float64
		align design.Align
		want  plane.Box
		ok    bool
	}{
		{"both ways", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54)}, 14, design.Middle, box(18, 10, 14, 5), true},
		{"rounded up", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54)}, 12.041, design.Start, box(20, 10, 12.1, 5), true},
		{"to the left", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54)}, 12, design.End, box(18, 10, 12, 5), true},
		{"held by the edge", room{box: box(20, 10, 10, 5), reach: box(0, 0, 31, 54)}, 14, design.Start, box(17, 10, 14, 5), true},
		{"held by a neighbour", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54), neighbours: []plane.Box{box(31, 14, 9, 9)}}, 14, design.Start, box(17, 10, 14, 5), true},
		{"not by one below", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54), neighbours: []plane.Box{box(31, 15, 9, 9)}}, 14, design.Start, box(20, 10, 14, 5), true},
		{"to the hundredth", room{box: box(20, 10, 10, 5), reach: box(20, 0, 12.05, 54)}, 12.041, design.Start, box(20, 10, 12.05, 5), true},
		{"no room", room{box: box(20, 10, 10, 5), reach: box(0, 0, 85, 54), neighbours: []plane.Box{box(31, 12, 1, 1), box(18, 12, 1, 1)}}, 13, design.Middle, plane.Box{}, false},
	} {
		if got, ok := c.room.grown(true, unit.MM(c.need), c.align); ok != c.ok || ok && got != c.want {
			t.Errorf("%s: %v, %v", c.name, got, ok)
		}
	}
}
