package web

import (
	"net/http"

	"unspool/grade"
	"unspool/proof"
)

type traceForm struct {
	Side    string   `json:"side"`
	AlongX  bool     `json:"alongX"`
	Reverse bool     `json:"reverse"`
	At      number   `json:"at"`
	From    number   `json:"from"`
	Step    number   `json:"step"`
	Samples []number `json:"samples"`
	Lines   []number `json:"lines"`
	Line    int      `json:"line"`
	Spot    bool     `json:"spot"`

	Aperture number `json:"aperture"`
	Peak     number `json:"peak"`
	Edition  string `json:"edition"`
	Read     bool   `json:"read"`
	ReadWhy  string `json:"readWhy,omitempty"`

	GT           number             `json:"gt"`
	Rmin         number             `json:"rmin"`
	Rmax         number             `json:"rmax"`
	SC           number             `json:"sc"`
	ECmin        number             `json:"ecmin"`
	MOD          number             `json:"mod"`
	Defects      number             `json:"defects"`
	Decodability number             `json:"decodability"`
	QuietLeft    number             `json:"quietLeft"`
	QuietRight   number             `json:"quietRight"`
	Grades       map[string]number  `json:"grades"`
	Grade        number             `json:"grade"`
	Deciding     string             `json:"deciding"`
	Decoded      bool               `json:"decoded"`
	Why          string             `json:"why"`
	Elements     []traceElementForm `json:"elements"`
	Drawn        []drawnElementForm `json:"drawn"`
}

type traceElementForm struct {
	From   number `json:"from"`
	To     number `json:"to"`
	Bar    bool   `json:"bar"`
	Margin number `json:"margin"`
	Char   string `json:"char"`
}

type drawnElementForm struct {
	From number `json:"from"`
	To   number `json:"to"`
	Bar  bool   `json:"bar"`
	Char string `json:"char"`
}

// gradeNames are the parameters of ISO/IEC 15416 as the page calls them.
var gradeNames = [grade.Parameters]string{
	grade.Decode: "decode", grade.MinReflectance: "rmin", grade.MinEdge: "ecmin", grade.Contrast: "sc",
	grade.Modulation: "mod", grade.Defects: "defects", grade.Decodability: "decodability", grade.QuietZone: "quiet",
}

// most of what a query may ask for by number.
const maxIndex = 1 << 20

func (b *Bench) getTrace(r *http.Request) (any, error) {
	s := b.now.Load()
	code, reader, spot, err := sighting(r)
	if err != nil {
		return nil, err
	}
	line := proof.LineOf
	if r.URL.Query().Has("line") {
		if line, err = whole(r, "line", 0, maxIndex); err != nil {
			return nil, err
		}
	}
	k, err := s.shown(r)
	if err != nil {
		return nil, err
	}
	t, ok := k.Trace(code, reader, spot, line)
	if !ok {
		return nil, missing{"there is no such line to look at", "the code is not drawn on this card, or there is no such code, reader or line"}
	}
	return traceOf(&t), nil
}

// sighting is which code is looked at, by which reader, and whether through the
// reader's own spot.
func sighting(r *http.Request) (code, reader int, spot bool, err error) {
	if code, err = whole(r, "code", 0, maxIndex); err != nil {
		return
	}
	if reader, err = whole(r, "reader", 0, maxIndex); err != nil {
		return
	}
	switch r.URL.Query().Get("aperture") {
	case "", "standard":
	case "spot":
		spot = true
	default:
		err = refused{"there is no such aperture", "ask for standard or spot"}
	}
	return
}

func traceOf(t *proof.Trace) traceForm {
	s := &t.Scan
	f := traceForm{Side: t.Side.String(), AlongX: t.AlongX, Reverse: t.Reverse, At: number(t.At), From: number(t.From), Step: number(t.Step),
		Samples: numbers(t.Samples), Lines: numbers(t.Lines), Line: t.Line, Spot: t.Spot,
		Aperture: number(t.Aperture.MM()), Peak: number(t.Peak), Edition: t.Edition.String(), Read: t.Read, ReadWhy: t.Why.String(),
		GT: number(s.GT), Rmin: number(s.Rmin), Rmax: number(s.Rmax), SC: number(s.SC), ECmin: number(s.ECmin), MOD: number(s.MOD),
		Defects: number(s.Defects), Decodability: number(s.Reading.Decodability), QuietLeft: number(s.QuietLeft), QuietRight: number(s.QuietRight),
		Grades: map[string]number{}, Grade: number(s.Grade), Deciding: s.Deciding.String(), Decoded: s.Decoded, Why: s.Why.String(),
		Elements: []traceElementForm{}, Drawn: []drawnElementForm{}}
	for p, name := range gradeNames {
		f.Grades[name] = number(s.Grades[p])
	}
	for _, e := range t.Elements {
		f.Elements = append(f.Elements, traceElementForm{number(e.From), number(e.To), e.Bar, number(e.Margin), e.Char})
	}
	for _, e := range t.Drawn {
		f.Drawn = append(f.Drawn, drawnElementForm{number(e.From), number(e.To), e.Bar, e.Char})
	}
	return f
}
