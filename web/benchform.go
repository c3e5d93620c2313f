package web

import (
	"unspool/code"
	"unspool/design"
	"unspool/grade"
	"unspool/panel"
	"unspool/plane"
	"unspool/proof"
	"unspool/report"
	"unspool/ribbon"
	"unspool/site"
)

// The forms below are what the page is told of the programme. Lengths are
// millimetres, wavelengths nanometres, rows count from 0.

type benchForm struct {
	Name     string       `json:"name"`
	Revision int          `json:"revision"`
	Light    int          `json:"light"` // the revision since which /api/light answers the same
	Undo     bool         `json:"undo"`
	Redo     bool         `json:"redo"`
	Unsaved  bool         `json:"unsaved"`
	Changed  bool         `json:"changedOnDisk"`
	Cards    int          `json:"cards"`
	Columns  []string     `json:"columns"`
	Key      string       `json:"key"`
	Pitch    number       `json:"pitch"` // of a panel on the web; 0 where it is not known
	Sides    []sideForm   `json:"sides"`
	Readers  []readerForm `json:"readers"`
	Codes    []codeForm   `json:"codes"`
	Rules    []ruleForm   `json:"rules"`
	Assumed  []string     `json:"assumed"`
	Findings struct {
		Catalogue []entryForm `json:"catalogue"`
	} `json:"findings"`
}

type sideForm struct {
	Side     string        `json:"side"`
	W        int           `json:"w"`
	H        int           `json:"h"`
	DX       int           `json:"dx"`
	DY       int           `json:"dy"`
	MM       sizeForm      `json:"mm"`
	Panels   []panelForm   `json:"panels"`
	Black    blackForm     `json:"black"`
	Elements []elementForm `json:"elements"`
	KeepOuts []keepOutForm `json:"keepouts"`
	Feed     feedForm      `json:"feed"`
}

type sizeForm struct {
	W number `json:"w"`
	H number `json:"h"`
}

type panelForm struct {
	Letter string `json:"letter"`
	Kind   string `json:"kind"`
	Name   string `json:"name"`
	Plane  string `json:"plane"`
	Colour [3]int `json:"colour"`
}

type blackForm struct {
	Rule  string    `json:"rule"`
	Limit int       `json:"limit"`
	Dyes  string    `json:"dyes"`
	Words string    `json:"words"`
	Zones []boxForm `json:"zones"`
}

type elementForm struct {
	Name string  `json:"name"`
	Kind string  `json:"kind"`
	Box  boxForm `json:"box"`
	Send string  `json:"send"`
}

type keepOutForm struct {
	Kind string  `json:"kind"`
	Box  boxForm `json:"box"`
}

type feedForm struct {
	Leads   string `json:"leads"`
	First   string `json:"first"` // the edge at the low end of the head
	Process string `json:"process"`
}

type boxForm struct {
	X number `json:"x"`
	Y number `json:"y"`
	W number `json:"w"`
	H number `json:"h"`
}

type readerForm struct {
	Name        string       `json:"name"`
	Kind        string       `json:"kind"`
	Peak        number       `json:"peak"`
	Width       number       `json:"width"`
	Spot        number       `json:"spot"`
	MinX        number       `json:"minX"`
	Least       number       `json:"least"`
	LeastLetter string       `json:"leastLetter"`
	Track       *trackForm   `json:"track,omitempty"`
	Accepts     []acceptForm `json:"accepts"`
}

type trackForm struct {
	Side      string `json:"side"`
	From      string `json:"from"`
	Line      number `json:"line"`
	Tolerance number `json:"tolerance"`
}

type acceptForm struct {
	Kind  string `json:"kind"`
	Title string `json:"title"`
	Min   int    `json:"min"`
	Max   int    `json:"max"`
	Check string `json:"check"`
}

type codeForm struct {
	Name    string `json:"name"`
	Side    string `json:"side"`
	Element int    `json:"element"`
}

type ruleForm struct {
	Rule  string `json:"rule"`
	Words string `json:"words"`
}

type entryForm struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Source string `json:"source"`
	Remedy string `json:"remedy"`
}

func (b *Bench) benchForm() benchForm {
	s := b.now.Load()
	p := s.programme
	f := benchForm{Name: p.Name, Revision: s.revision, Light: s.light, Cards: len(s.people.rows), Columns: s.files.Roster.Columns, Key: p.Roster.Key,
		Pitch: number(p.Ribbon.Pitch.MM()), Assumed: append([]string{}, p.Assumed...), Readers: []readerForm{}, Codes: []codeForm{}}
	f.Undo, f.Redo, f.Unsaved = b.steps()
	f.Changed = b.changedOnDisk()
	for side := range p.Faces {
		if p.Faces[side] != nil {
			f.Sides = append(f.Sides, s.sideForm(site.Side(side)))
		}
	}
	for _, r := range p.Readers {
		f.Readers = append(f.Readers, readerOf(r))
	}
	for _, c := range s.pf.Codes {
		f.Codes = append(f.Codes, codeForm{c.Name, c.Side.String(), c.Element})
	}
	for _, r := range site.Rules {
		f.Rules = append(f.Rules, ruleForm{r.String(), report.RuleWords(site.Black{Rule: r, Limit: p.Black[site.Front].Limit})})
	}
	for _, e := range proof.Catalogue {
		f.Findings.Catalogue = append(f.Findings.Catalogue, entryForm{e.ID, e.Title, e.Source, e.Remedy})
	}
	return f
}

func (s *snapshot) sideForm(side site.Side) sideForm {
	p := s.programme
	g, _ := s.pf.Grid(side)
	lie := p.Printer.Lie[side]
	f := sideForm{Side: side.String(), W: g.W, H: g.H, DX: int(g.DX), DY: int(g.DY), MM: sizeForm{number(p.Card.W.MM()), number(p.Card.H.MM())},
		Black: blackOf(p.Black[side]), Feed: feedForm{lie.Leads.String(), lie.First.String(), p.Printer.Process.String()},
		Panels: []panelForm{}, Elements: []elementForm{}, KeepOuts: []keepOutForm{}}
	for _, q := range s.pf.Set(side) {
		f.Panels = append(f.Panels, panelForm{string(q.Letter), panelKinds[q.Kind], q.Name, planeOf(q.Kind), colourOf(q)})
	}
	for i := range p.Faces[side].Elements {
		e := &p.Faces[side].Elements[i]
		f.Elements = append(f.Elements, elementForm{e.Name, kindOf(e), boxOf(e.Box), e.Send.String()})
	}
	for _, k := range p.Card.KeepOuts {
		if k.Side == side {
			f.KeepOuts = append(f.KeepOuts, keepOutForm{k.Kind.String(), boxOf(k.Box)})
		}
	}
	return f
}

func colourOf(p site.Panel) [3]int {
	c := ribbon.Colour(p)
	return [3]int{int(c[0]), int(c[1]), int(c[2])}
}

// panelKinds names the kinds of panel.
var panelKinds = map[site.PanelKind]string{
	site.Yellow: "yellow", site.Magenta: "magenta", site.Cyan: "cyan", site.BlackResin: "black-resin", site.Overlay: "overlay",
	site.Fluorescent: "fluorescent", site.Metallic: "metallic", site.WhiteResin: "white-resin", site.ColourResin: "colour-resin",
}

// planeOf names the plane that a kind of panel prints.
func planeOf(k site.PanelKind) string {
	switch k {
	case site.Yellow:
		return "y"
	case site.Magenta:
		return "m"
	case site.Cyan:
		return "c"
	case site.BlackResin:
		return "k"
	case site.Overlay:
		return "o"
	case site.Fluorescent:
		return "f"
	}
	return "s"
}

// namedPlane is one plane of a face.
type namedPlane struct {
	name string
	dots *[]uint8
}

// planes lists the planes of a face in the order they are sent.
func planes(p *panel.Panels) []namedPlane {
	return []namedPlane{{"y", &p.Y}, {"m", &p.M}, {"c", &p.C}, {"k", &p.K}, {"o", &p.O}, {"f", &p.F}, {"s", &p.S}}
}

func kindOf(e *design.Element) string {
	switch {
	case e.Picture != nil:
		return "picture"
	case e.Photo != nil:
		return "photo"
	case e.Text != nil:
		return "text"
	case e.Code != nil:
		return "code"
	case e.MRZ != nil:
		return "mrz"
	case e.Shape != nil && e.Shape.Kind == design.Ellipse:
		return "ellipse"
	case e.Shape != nil && e.Shape.Kind == design.Line:
		return "line"
	}
	return "rectangle"
}

func blackOf(b site.Black) blackForm {
	f := blackForm{Rule: b.Rule.String(), Limit: int(b.Limit), Dyes: "leave", Words: report.RuleWords(b), Zones: []boxForm{}}
	if b.KeepDyes {
		f.Dyes = "keep"
	}
	for _, z := range b.Zones {
		f.Zones = append(f.Zones, boxOf(z))
	}
	return f
}

func boxOf(b plane.Box) boxForm {
	return boxForm{number(b.X.MM()), number(b.Y.MM()), number(b.W.MM()), number(b.H.MM())}
}

func readerOf(r site.Reader) readerForm {
	f := readerForm{Name: r.Name, Kind: r.Kind.String(), Peak: number(r.Peak), Width: number(r.Width), Spot: number(r.Spot.MM()),
		MinX: number(r.MinX.MM()), Least: number(r.Least), LeastLetter: grade.Letter(r.Least), Accepts: []acceptForm{}}
	if r.Kind == site.Slot {
		f.Track = &trackForm{r.Track.Side.String(), r.Track.From.String(), number(r.Track.Line.MM()), number(r.Track.Tolerance.MM())}
	}
	for _, a := range r.Accepts {
		title := a.Kind
		if k, ok := code.ByName(a.Kind); ok {
			title = k.Title
		}
		f.Accepts = append(f.Accepts, acceptForm{a.Kind, title, a.Min, a.Max, a.Check})
	}
	return f
}
