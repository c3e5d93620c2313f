package report

import (
	"encoding/json"
	"math"

	"unspool/grade"
	"unspool/plane"
	"unspool/proof"
	"unspool/site"
)

// The forms below are what proof.json is made of, in the order of its keys.
// Rows count from 1. Reflectances and shares are 0 to 1, lengths millimetres.

// measure is a number to four decimals; what is no number becomes null.
type measure float64

// MarshalJSON writes the number.
func (m measure) MarshalJSON() ([]byte, error) {
	v := float64(m)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(math.Round(1e4*v)/1e4 + 0) // + 0 takes the sign off a zero
}

type codeForm struct {
	Name string `json:"name"`
	Side string `json:"side"`
}

type readerForm struct {
	Name  string  `json:"name"`
	Kind  string  `json:"kind"`
	Peak  measure `json:"peak_nm"`
	Width measure `json:"width_nm"`
	Least measure `json:"least"`
}

type cardForm struct {
	Row      int           `json:"row"`
	Key      string        `json:"key"`
	Readings []readingForm `json:"readings"`
	Drawn    []drawnForm   `json:"drawn"`
	Matched  []matchedForm `json:"matched"`
	Findings []findingForm `json:"findings"`
}

type drawnForm struct {
	Code   string  `json:"code"`
	Text   string  `json:"text,omitempty"`
	XDots  int     `json:"x_dots"`
	X      measure `json:"x"`
	N      measure `json:"n,omitempty"`
	Width  measure `json:"width"`
	Height measure `json:"height"`

	Modules *modulesForm `json:"modules,omitempty"`
}

type matchedForm struct {
	Side    string  `json:"side"`
	Element string  `json:"element"`
	Mean    measure `json:"mean_de00"`
	Worst   measure `json:"worst_de00"`
}

type readingForm struct {
	Code    string     `json:"code"`
	Reader  string     `json:"reader"`
	Verdict string     `json:"verdict"`
	Cause   string     `json:"cause,omitempty"`
	Reason  string     `json:"reason,omitempty"`
	Grade   *gradeForm `json:"grade,omitempty"`
	Text    string     `json:"text,omitempty"`
	Lines   int        `json:"lines,omitempty"`
	Good    int        `json:"good,omitempty"`
	Worst   *scanForm  `json:"worst_scan,omitempty"`

	Quality *qualityForm `json:"quality,omitempty"`
}

type gradeForm struct {
	Value  measure `json:"value"`
	Letter string  `json:"letter"`
	Text   string  `json:"text"`
}

type scanForm struct {
	Grade        measure    `json:"grade"`
	Deciding     string     `json:"deciding"`
	Why          string     `json:"why"`
	Decoded      bool       `json:"decoded"`
	Rmin         measure    `json:"rmin"`
	Rmax         measure    `json:"rmax"`
	SC           measure    `json:"sc"`
	ECmin        measure    `json:"ecmin"`
	MOD          measure    `json:"mod"`
	Defects      measure    `json:"defects"`
	Decodability measure    `json:"decodability"`
	QuietLeft    measure    `json:"quiet_left_x"`
	QuietRight   measure    `json:"quiet_right_x"`
	Grades       gradesForm `json:"grades"`
}

type gradesForm struct {
	Decode         measure `json:"decode"`
	MinReflectance measure `json:"rmin"`
	MinEdge        measure `json:"ecmin"`
	Contrast       measure `json:"sc"`
	Modulation     measure `json:"mod"`
	Defects        measure `json:"defects"`
	Decodability   measure `json:"decodability"`
	QuietZone      measure `json:"quiet_zone"`
}

type findingForm struct {
	ID      string   `json:"id"`
	Level   string   `json:"level"`
	Title   string   `json:"title"`
	Side    string   `json:"side,omitempty"`
	Element string   `json:"element,omitempty"`
	Reader  string   `json:"reader,omitempty"`
	Where   *boxForm `json:"where,omitempty"`
	Measure string   `json:"measure,omitempty"`
	Limit   string   `json:"limit,omitempty"`
	Source  string   `json:"source,omitempty"`
	Detail  string   `json:"detail,omitempty"`
	Remedy  string   `json:"remedy,omitempty"`
}

type boxForm struct {
	X measure `json:"x"`
	Y measure `json:"y"`
	W measure `json:"w"`
	H measure `json:"h"`
}

// names are what indices of codes and readers stand for.
type names struct {
	codes   []proof.CodeRef
	readers []site.Reader
}

func (n names) codeList() []codeForm {
	out := make([]codeForm, len(n.codes))
	for i, c := range n.codes {
		out[i] = codeForm{c.Name, c.Side.String()}
	}
	return out
}

func (n names) readerList() []readerForm {
	out := make([]readerForm, len(n.readers))
	for i, r := range n.readers {
		out[i] = readerForm{r.Name, r.Kind.String(), measure(r.Peak), measure(r.Width), measure(r.Least)}
	}
	return out
}

func (n names) card(c proof.Card) cardForm {
	f := cardForm{Row: c.Row + 1, Key: c.Key, Readings: make([]readingForm, len(c.Readings)), Findings: make([]findingForm, len(c.Findings)),
		Drawn: make([]drawnForm, len(c.Drawn)), Matched: make([]matchedForm, len(c.Matched))}
	for i, r := range c.Readings {
		f.Readings[i] = n.reading(r)
	}
	for i, g := range c.Findings {
		f.Findings[i] = formOf(g)
	}
	for i, d := range c.Drawn {
		f.Drawn[i] = n.drawn(d)
	}
	for i, m := range c.Matched {
		f.Matched[i] = matchedForm{m.Side.String(), m.Element, measure(m.Mean), measure(m.Worst)}
	}
	return f
}

func (n names) drawn(d proof.Drawn) drawnForm {
	return drawnForm{n.codes[d.Code].Name, d.Text, d.Size.X, measure(d.X.MM()), measure(d.N), measure(d.Width.MM()), measure(d.Height.MM()), modulesOf(d.Modules)}
}

func (n names) reading(r proof.Reading) readingForm {
	f := readingForm{Code: n.codes[r.Code].Name, Reader: n.readers[r.Reader].Name, Verdict: r.Verdict.String()}
	if r.Verdict == proof.NotMeant {
		return f
	}
	f.Cause, f.Reason, f.Text, f.Lines, f.Good = r.Cause.ID, r.Reason.String(), r.Text, r.Lines, r.Good
	if r.Grade.Text != "" {
		f.Grade = &gradeForm{measure(r.Grade.Value), r.Grade.Letter, r.Grade.Text}
		if r.Quality != nil {
			f.Quality = qualityOf(r.Quality)
		} else {
			f.Worst = scanOf(r.Worst)
		}
	}
	return f
}

func scanOf(s grade.Scan) *scanForm {
	g := func(p grade.Parameter) measure { return measure(s.Grades[p]) }
	return &scanForm{
		Grade: measure(s.Grade), Deciding: s.Deciding.String(), Why: s.Why.String(), Decoded: s.Decoded,
		Rmin: measure(s.Rmin), Rmax: measure(s.Rmax), SC: measure(s.SC), ECmin: measure(s.ECmin), MOD: measure(s.MOD),
		Defects: measure(s.Defects), Decodability: measure(s.Reading.Decodability),
		QuietLeft: measure(s.QuietLeft), QuietRight: measure(s.QuietRight),
		Grades: gradesForm{g(grade.Decode), g(grade.MinReflectance), g(grade.MinEdge), g(grade.Contrast), g(grade.Modulation),
			g(grade.Defects), g(grade.Decodability), g(grade.QuietZone)},
	}
}

func formOf(f proof.Finding) findingForm {
	out := findingForm{ID: f.ID, Level: f.Level.String(), Title: title(f), Element: f.Element, Reader: f.Reader, Measure: f.Measure.String(),
		Limit: f.Limit.String(), Source: proof.About(f.ID).Source, Detail: f.Detail.String(), Remedy: f.Advise().String()}
	if f.Element != "" || f.Row >= 0 && !f.Roster {
		out.Side = f.Side.String()
	}
	if f.Where != (plane.Box{}) {
		out.Where = &boxForm{measure(f.Where.X.MM()), measure(f.Where.Y.MM()), measure(f.Where.W.MM()), measure(f.Where.H.MM())}
	}
	return out
}
