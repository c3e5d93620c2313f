package report

import (
	"unspool/grade"
	"unspool/proof"
)

// The forms of two-dimensional codes.

// modulesForm is what a two-dimensional code is made of.
type modulesForm struct {
	Across int     `json:"across"`
	Down   int     `json:"down"`
	XDots  int     `json:"x_dots"`
	YDots  int     `json:"y_dots"`
	X      measure `json:"x"`
	Y      measure `json:"y"`
	Symbol string  `json:"symbol"`
}

type qualityForm struct {
	Edition    string        `json:"edition"`
	Deciding   string        `json:"deciding"`
	Why        string        `json:"why"`
	Decoded    bool          `json:"decoded"`
	Rmin       measure       `json:"rmin"`
	Rmax       measure       `json:"rmax"`
	Figures    []figureForm  `json:"figures"`
	Segments   []segmentForm `json:"segments,omitempty"`
	Uniformity *measure      `json:"contrast_uniformity,omitempty"`
}

type figureForm struct {
	Parameter string  `json:"parameter"`
	Value     measure `json:"value"`
	Grade     measure `json:"grade"`
	Words     string  `json:"words"`
}

type segmentForm struct {
	Name    string `json:"name"`
	Modules int    `json:"modules"`
	Damaged int    `json:"damaged"`
	Grade   int    `json:"grade"`
}

func modulesOf(m *proof.DrawnModules) *modulesForm {
	if m == nil {
		return nil
	}
	return &modulesForm{m.W, m.H, m.Dots[0], m.Dots[1], measure(m.Size[0].MM()), measure(m.Size[1].MM()), m.Spec}
}

func qualityOf(q *grade.Quality) *qualityForm {
	f := &qualityForm{Edition: q.Edition, Deciding: q.Deciding.String(), Why: q.Why.String(), Decoded: q.Decoded,
		Rmin: measure(q.Rmin), Rmax: measure(q.Rmax), Figures: make([]figureForm, len(q.Figures))}
	for i, x := range q.Figures {
		f.Figures[i] = figureForm{x.Parameter.String(), measure(x.Value), measure(x.Grade), x.Why.String()}
	}
	for _, x := range q.Segments {
		f.Segments = append(f.Segments, segmentForm{x.Name, x.Modules, x.Damaged, x.Grade})
	}
	if len(q.Segments) > 0 { // what hangs on the reading is measured together
		u := measure(q.Uniformity)
		f.Uniformity = &u
	}
	return f
}
