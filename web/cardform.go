package web

import (
	"net/http"

	"unspool/face"
	"unspool/plane"
	"unspool/proof"
	"unspool/symbol"
)

type cardForm struct {
	Row      int               `json:"row"`
	Key      string            `json:"key"`
	Label    string            `json:"label"`
	Revision int               `json:"revision"`
	Fields   map[string]string `json:"fields"`
	Readings []readingForm     `json:"readings"`
	Findings []findingForm     `json:"findings"`
	Codes    []placedForm      `json:"codes"`
}

type readingForm struct {
	Code    int         `json:"code"`
	Reader  int         `json:"reader"`
	Verdict string      `json:"verdict"`
	Words   string      `json:"words"`
	Cause   string      `json:"cause,omitempty"`
	Reason  string      `json:"reason,omitempty"`
	Measure string      `json:"measure,omitempty"`
	Limit   string      `json:"limit,omitempty"`
	Grade   *gradeForm  `json:"grade,omitempty"`
	Lines   int         `json:"lines"`
	Good    int         `json:"good"`
	Says    readingSays `json:"says,omitzero"`
}

type gradeForm struct {
	Value  number `json:"value"`
	Letter string `json:"letter"`
	Text   string `json:"text"`
}

type findingForm struct {
	ID      string      `json:"id"`
	Level   string      `json:"level"`
	Title   string      `json:"title"`
	Side    string      `json:"side,omitempty"`
	Element string      `json:"element,omitempty"`
	Reader  string      `json:"reader,omitempty"`
	Where   *boxForm    `json:"where,omitempty"`
	Measure string      `json:"measure,omitempty"`
	Limit   string      `json:"limit,omitempty"`
	Source  string      `json:"source,omitempty"`
	Detail  string      `json:"detail,omitempty"`
	Remedy  string      `json:"remedy,omitempty"`
	Says    findingSays `json:"says,omitzero"`
}

// placedForm is a code as it is laid on the card.
type placedForm struct {
	Code    int        `json:"code"`
	Side    string     `json:"side"`
	Kind    string     `json:"kind"`
	Text    string     `json:"text"`
	X       xForm      `json:"x"`
	N       number     `json:"n"` // wide:narrow; 0 for modular symbologies
	Width   number     `json:"width"`
	Bars    rectForm   `json:"bars"`
	Quiet   rectForm   `json:"quiet"`
	AlongX  bool       `json:"alongX"`
	Reverse bool       `json:"reverse"`
	Steps   []stepForm `json:"steps"`

	Matrix *matrixForm `json:"matrix,omitempty"`
}

// matrixForm is what a two-dimensional code is made of, as it lies on the card.
type matrixForm struct {
	W      int    `json:"w"` // modules across and down
	H      int    `json:"h"`
	Module [2]int `json:"module"` // dots of one, across and down
	Rows   bool   `json:"rows"`   // it is rows of bars, one above the other
	Spec   string `json:"spec"`
}

type xForm struct {
	Dots int    `json:"dots"`
	MM   number `json:"mm"`
}

type rectForm struct {
	X0 int `json:"x0"`
	Y0 int `json:"y0"`
	X1 int `json:"x1"`
	Y1 int `json:"y1"`
}

func rectOf(r plane.Rect) rectForm { return rectForm{r.X0, r.Y0, r.X1, r.Y1} }

// verdicts are the words of the API for a proof.Verdict.
var verdicts = [...]string{proof.NotMeant: "none", proof.Reads: "reads", proof.Little: "little", proof.Fails: "fails"}

func (b *Bench) getCard(r *http.Request) (any, error) {
	s := b.now.Load()
	k, err := s.shown(r)
	if err != nil {
		return nil, err
	}
	f := cardForm{Row: k.Card.Row, Key: k.Card.Key, Label: s.people.labels[k.Card.Row], Revision: s.revision, Fields: map[string]string{},
		Readings: readingsOf(k.Card.Readings), Findings: []findingForm{}, Codes: []placedForm{}}
	person := s.people.rows[k.Card.Row].Person
	for _, c := range s.files.Roster.Columns {
		f.Fields[c] = person.Field(c)
	}
	for _, d := range s.programme.Fields {
		f.Fields[d.Name] = person.Field(d.Name)
	}
	for _, x := range k.Card.Findings {
		f.Findings = append(f.Findings, findingOf(x))
	}
	for i, c := range s.pf.Codes {
		side := k.On(c.Side)
		for j := range side.Codes {
			if side.Codes[j].Element == c.Element {
				placed := placedOf(i, side, &side.Codes[j])
				placed.Steps = s.stepsOf(c.Side, &side.Codes[j])
				f.Codes = append(f.Codes, placed)
			}
		}
	}
	return f, nil
}

func readingsOf(rs []proof.Reading) []readingForm {
	out := make([]readingForm, len(rs))
	for i, r := range rs {
		f := readingForm{Code: r.Code, Reader: r.Reader, Verdict: verdicts[r.Verdict], Words: r.Verdict.String()}
		if r.Verdict != proof.NotMeant {
			f.Cause, f.Lines, f.Good = r.Cause.ID, r.Lines, r.Good
			f.Reason, f.Measure, f.Limit = r.Reason.String(), r.Measure.String(), r.Limit.String()
			f.Says = readingSays{sayOf(r.Reason), sayOf(r.Measure), sayOf(r.Limit)}
			if r.Grade.Text != "" {
				f.Grade = &gradeForm{number(r.Grade.Value), r.Grade.Letter, r.Grade.Text}
			}
		}
		out[i] = f
	}
	return out
}

func findingOf(x proof.Finding) findingForm {
	about := proof.About(x.ID)
	f := findingForm{ID: x.ID, Level: x.Level.String(), Title: about.Title, Element: x.Element, Reader: x.Reader,
		Measure: x.Measure.String(), Limit: x.Limit.String(), Source: about.Source, Detail: x.Detail.String(), Remedy: x.Advise().String(),
		Says: findingSays{sayOf(x.Detail), sayOf(x.Measure), sayOf(x.Limit), sayOf(x.Remedy)}}
	if x.Row >= 0 || x.Element != "" {
		f.Side = x.Side.String()
	}
	if x.Where != (plane.Box{}) {
		where := boxOf(x.Where)
		f.Where = &where
	}
	return f
}

func placedOf(i int, s *proof.ShownSide, c *face.Placed) placedForm {
	g := s.Panels.Grid
	pitch, width := g.DX, c.Quiet.W()
	if !c.AlongX {
		pitch, width = g.DY, c.Quiet.H()
	}
	f := placedForm{Code: i, Side: s.Side.String(), Kind: c.Kind.Title, Text: c.Text(), X: xForm{c.Size.X, number(pitch.Span(c.Size.X).MM())},
		Width: number(pitch.Span(width).MM()), Bars: rectOf(c.Bars), Quiet: rectOf(c.Quiet), AlongX: c.AlongX, Reverse: c.Reverse}
	if c.Kind.Family == symbol.TwoWidth {
		f.N = number(float64(c.Size.Wide) / float64(c.Size.X))
	}
	if c.Matrix != nil {
		f.Matrix = &matrixForm{c.Lies.W, c.Lies.H, c.Module, c.Kind.Family == symbol.MultiRow, c.Matrix.Spec}
	}
	return f
}

type ruledForm struct {
	Rule     string        `json:"rule"`
	Words    string        `json:"words"`
	Current  bool          `json:"current"`
	Photo    int           `json:"photo"`
	Readings []readingForm `json:"readings"`
}

type ruledSide struct {
	Side  string      `json:"side"`
	Rules []ruledForm `json:"rules"`
}

func (b *Bench) getRules(r *http.Request) (any, error) {
	k, err := b.now.Load().shown(r)
	if err != nil {
		return nil, err
	}
	out := struct {
		Sides []ruledSide `json:"sides"`
	}{Sides: []ruledSide{}}
	for _, s := range k.Sides {
		side := ruledSide{s.Side.String(), []ruledForm{}}
		for _, t := range k.Rules(s.Side) {
			words := blackOf(t.Black).Words
			side.Rules = append(side.Rules, ruledForm{t.Black.Rule.String(), words, t.Current, t.Photo, readingsOf(t.Readings)})
		}
		if len(side.Rules) > 0 {
			out.Sides = append(out.Sides, side)
		}
	}
	return out, nil
}
