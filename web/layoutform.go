package web

import (
	"encoding/json"
	"net/http"

	"unspool/code"
	"unspool/design"
	"unspool/design/edit"
	"unspool/face"
	"unspool/site"
)

// faultForm is one thing wrong with a programme file.
type faultForm struct {
	Line int    `json:"line"` // 0 where the whole file is meant
	Path string `json:"path"`
	Text string `json:"text"`
}

// sendFaults tells what is wrong with a programme file.
func sendFaults(w http.ResponseWriter, f *design.Faults) {
	out := struct {
		Error  string      `json:"error"`
		Hint   string      `json:"hint"`
		Faults []faultForm `json:"faults"`
	}{Error: f.Error(), Hint: "correct the programme and try again"}
	for _, x := range f.List {
		out.Faults = append(out.Faults, faultForm{x.Pos.Line, x.Path, x.Text})
	}
	send(w, http.StatusUnprocessableEntity, out)
}

// statedForm is an element as the file states it.
type statedForm struct {
	Name   string          `json:"name"`
	Kind   string          `json:"kind"`
	Stated json.RawMessage `json:"stated"` // its keys
}

type statedSide struct {
	Side     string       `json:"side"`
	Elements []statedForm `json:"elements"`
}

// getLayout tells what the file states of every element, and what there is to
// choose from.
func (b *Bench) getLayout(*http.Request) (any, error) {
	b.mu.Lock()
	s, history, why := b.now.Load(), b.draft.history, b.draft.why
	var src *edit.Source
	if history != nil {
		src = history.Now()
	}
	b.mu.Unlock()
	out := struct {
		Revision int          `json:"revision"`
		File     string       `json:"file"`
		Why      string       `json:"why,omitempty"` // why it cannot be changed here
		Fields   []string     `json:"fields"`
		Pictures []string     `json:"pictures"`
		Codes    []kindForm   `json:"codes"`
		Sides    []statedSide `json:"sides"`
	}{Revision: s.revision, File: s.programme.File, Fields: append([]string{}, s.files.Roster.Columns...), Pictures: append([]string{}, s.files.Pictures()...)}
	for _, f := range s.programme.Fields {
		out.Fields = append(out.Fields, f.Name)
	}
	for _, k := range code.All() {
		out.Codes = append(out.Codes, kindForm{k.Name, k.Title})
	}
	if src == nil {
		out.Why, out.Sides = why.Error(), []statedSide{}
		return out, nil
	}
	for i, f := range s.programme.Faces {
		side := statedSide{site.Side(i).String(), []statedForm{}}
		for n := 0; f != nil && n < len(f.Elements); n++ {
			v, _ := src.Value(edit.Element(site.Side(i), n))
			stated, err := v.MarshalJSON()
			if err != nil {
				return nil, err
			}
			side.Elements = append(side.Elements, statedForm{f.Elements[n].Name, kindOf(&f.Elements[n]), stated})
		}
		out.Sides = append(out.Sides, side)
	}
	return out, nil
}

type kindForm struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

// stepForm is an X that a code may have, with the room that it takes then.
type stepForm struct {
	Dots   int    `json:"dots"`
	MM     number `json:"mm"`
	Need   number `json:"need"`             // mm along the code, quiet zones included
	Across number `json:"across,omitempty"` // mm across a two-dimensional one
}

// stepsOf lists what X a code on the card may have, up to the first that is too
// large for the whole face.
func (s *snapshot) stepsOf(side site.Side, p *face.Placed) []stepForm {
	g, _ := s.pf.Grid(side)
	along, across := g.DX, g.DY
	if !p.AlongX {
		along, across = across, along
	}
	out := []stepForm{}
	for _, x := range p.Steps(s.programme.Faces[side].Elements[p.Element].Code, g) {
		out = append(out, stepForm{x.X, number(along.Span(x.X).MM()), number(along.Span(x.Need).MM()), number(across.Span(x.Across).MM())})
	}
	return out
}
