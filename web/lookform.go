package web

import (
	"net/http"

	"unspool/grade"
	"unspool/proof"
)

// lookForm is a two-dimensional code as a reader sees it, module by module. Lists
// of modules are row by row as the code lies on the face, without its quiet zone.
type lookForm struct {
	Side        string     `json:"side"`
	Bars        rectForm   `json:"bars"` // dots of the symbol without its quiet zone
	W           int        `json:"w"`
	H           int        `json:"h"`
	Module      [2]int     `json:"module"` // dots across and down
	Quiet       int        `json:"quiet"`  // rings of quiet modules that reflectances hold too
	Spec        string     `json:"spec"`
	Reflectance []number   `json:"reflectance"` // of every module, those of the quiet zone too
	Dark        []int      `json:"dark"`        // 1: should be dark
	Of          []int16    `json:"of"`          // codeword by number; -1 where it is of none
	Parts       []partForm `json:"parts"`
	Wrong       []int      `json:"wrong"` // modules on the wrong side of the threshold

	GT       number      `json:"gt"`
	Rmin     number      `json:"rmin"`
	Rmax     number      `json:"rmax"`
	Spot     bool        `json:"spot"`
	Aperture number      `json:"aperture"`
	Peak     number      `json:"peak"`
	Read     bool        `json:"read"`
	Quality  qualityForm `json:"quality"`
}

// partForm is a fixed pattern.
type partForm struct {
	Name    string  `json:"name"`
	Modules []int32 `json:"modules"`
}

type qualityForm struct {
	Edition  string       `json:"edition"`
	Grade    gradeForm    `json:"grade"`
	Aperture number       `json:"aperture"`
	Deciding string       `json:"deciding"`
	Decoded  bool         `json:"decoded"`
	Figures  []gradedForm `json:"figures"`
}

type gradedForm struct {
	Name  string   `json:"name"`
	Value number   `json:"value"`
	Grade number   `json:"grade"`
	Why   string   `json:"why"`
	Says  *sayForm `json:"says,omitempty"`
}

// figureNames are the parameters of ISO/IEC 15415 as the page calls them.
var figureNames = map[grade.Parameter]string{
	grade.Decode: "decode", grade.Contrast: "sc", grade.Modulation: "mod", grade.Defects: "defects", grade.Decodability: "decodability",
	grade.Margin: "margin", grade.FixedPattern: "fixed", grade.AxialUniformity: "an", grade.GridUniformity: "gn",
	grade.UnusedCorrection: "uec", grade.StartStop: "ends", grade.CodewordYield: "yield",
}

func (b *Bench) getLook(r *http.Request) (any, error) {
	code, reader, spot, err := sighting(r)
	if err != nil {
		return nil, err
	}
	k, err := b.now.Load().shown(r)
	if err != nil {
		return nil, err
	}
	l, ok := k.Look(code, reader, spot)
	if !ok {
		return nil, missing{"there are no modules to look at", "the code is not drawn on this card, is one of bars, or there is no such code or reader"}
	}
	return lookOf(&l), nil
}

func lookOf(l *proof.Sighting) lookForm {
	n := l.Truth.W * l.Truth.H
	f := lookForm{Side: l.Side.String(), Bars: rectOf(l.At), W: l.Truth.W, H: l.Truth.H, Module: l.Module, Quiet: l.Modules.Quiet, Spec: l.Spec,
		Reflectance: numbers(l.Modules.R), Dark: make([]int, n), Of: l.Of, Parts: []partForm{}, Wrong: []int{},
		GT: number(l.GT), Rmin: number(l.Rmin), Rmax: number(l.Rmax), Spot: l.Spot, Aperture: number(l.Aperture.MM()), Peak: number(l.Peak),
		Read: l.Read, Quality: qualityOf(&l.Quality)}
	for i := range n {
		if l.Truth.Dark[i] {
			f.Dark[i] = 1
		}
		if l.Wrong(i) {
			f.Wrong = append(f.Wrong, i)
		}
	}
	for _, p := range l.Parts {
		f.Parts = append(f.Parts, partForm{p.Name, p.Modules})
	}
	return f
}

func qualityOf(q *grade.Quality) qualityForm {
	f := qualityForm{Edition: q.Edition, Grade: gradeForm{number(q.Value), q.Letter, q.Text}, Aperture: number(q.Aperture.Diameter.MM()),
		Deciding: figureNames[q.Deciding], Decoded: q.Decoded, Figures: []gradedForm{}}
	for _, x := range q.Figures {
		f.Figures = append(f.Figures, gradedForm{figureNames[x.Parameter], number(x.Value), number(x.Grade), x.Why.String(), sayOf(x.Why)})
	}
	return f
}
