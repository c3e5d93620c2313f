package main

import (
	"encoding/json"
	"io"
	"math"

	"unspool/grade"
	"unspool/scan"
	"unspool/symbol"
)

// figure is a number of the output: four decimals, null where it is none.
type figure float64

// MarshalJSON writes the number.
func (f figure) MarshalJSON() ([]byte, error) {
	v := float64(f)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(math.Round(1e4*v)/1e4 + 0)
}

// The forms are those of schema/grade.schema.json.
type gradesForm struct {
	Unspool     int              `json:"unspool"`
	Meaning     string           `json:"meaning"`
	Width       int              `json:"width_px"`
	Height      int              `json:"height_px"`
	Pixel       figure           `json:"pixel_mm,omitempty"`
	Reflectance string           `json:"reflectance"`
	Assumed     bool             `json:"reflectance_assumed"`
	Symbols     []seenSymbolForm `json:"symbols"`
}

type seenSymbolForm struct {
	Kind      string       `json:"kind"`
	Title     string       `json:"title"`
	Text      string       `json:"text"`
	Bytes     []byte       `json:"bytes,omitempty"` // base64
	Form      string       `json:"form,omitempty"`
	Check     string       `json:"check"`
	Pixels    figure       `json:"x_px"`
	X         figure       `json:"x_mm,omitempty"`
	N         figure       `json:"n,omitempty"`
	Place     [4][2]figure `json:"place_px"`
	Angle     figure       `json:"angle_deg"`
	Lines     int          `json:"lines,omitempty"`
	Good      int          `json:"good,omitempty"`
	NotGraded []string     `json:"not_graded,omitempty"`
	Grade     *valueForm   `json:"grade,omitempty"`
	Accepted  *acceptForm  `json:"accepted,omitempty"`
	Scans     []lineForm   `json:"scans,omitempty"`
	Quality   *areaForm    `json:"quality,omitempty"`
}

type valueForm struct {
	Value    figure `json:"value"`
	Letter   string `json:"letter"`
	Text     string `json:"text"`
	Aperture string `json:"aperture"`
	ApertMM  figure `json:"aperture_mm"`
	Light    figure `json:"light_nm"`
}

type acceptForm struct {
	Rule string `json:"rule"`
	OK   bool   `json:"ok"`
	Why  string `json:"why,omitempty"`
}

type lineForm struct {
	Rmin         figure            `json:"rmin"`
	Rmax         figure            `json:"rmax"`
	SC           figure            `json:"sc"`
	ECmin        figure            `json:"ecmin"`
	MOD          figure            `json:"mod"`
	Defects      figure            `json:"defects"`
	Decodability figure            `json:"decodability"`
	QuietLeft    figure            `json:"quiet_left_x"`
	QuietRight   figure            `json:"quiet_right_x"`
	Decoded      bool              `json:"decoded"`
	Grades       map[string]figure `json:"grades"`
	Grade        figure            `json:"grade"`
	Why          string            `json:"why"`
}

type areaForm struct {
	Edition string     `json:"edition"`
	Rmin    figure     `json:"rmin"`
	Rmax    figure     `json:"rmax"`
	Why     string     `json:"why"`
	Figures []partForm `json:"figures"`
}

type partForm struct {
	Name  string `json:"name"`
	Value figure `json:"value"`
	Grade figure `json:"grade"`
	Why   string `json:"why"`
}

// gradesVersion is the version of the form.
const gradesVersion = 1

func writeGrades(w io.Writer, s *scan.Shot, all []scan.Judged, accept *grade.Acceptance) error {
	f := gradesForm{Unspool: gradesVersion, Meaning: "Symbols found in a picture, read and graded; no verification by a calibrated instrument.",
		Width: s.W, Height: s.H, Pixel: figure(s.StepX.MM()), Reflectance: s.Words.String(), Assumed: s.Assumed, Symbols: []seenSymbolForm{}}
	for i := range all {
		f.Symbols = append(f.Symbols, symbolOf(&all[i], accept))
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(f)
}

func symbolOf(j *scan.Judged, accept *grade.Acceptance) seenSymbolForm {
	f := seenSymbolForm{Kind: j.Kind.Name, Title: j.Kind.Title, Text: j.Text, Bytes: j.Data, Form: j.Spec,
		Check:  map[symbol.Check]string{symbol.Unchecked: "not asked for", symbol.CheckGood: "right", symbol.CheckBad: "wrong"}[j.Check],
		Pixels: figure(j.Pixels), X: figure(j.X.MM()), N: figure(j.N), Angle: figure(j.Angle()), Lines: j.Lines, Good: j.Good}
	for i, p := range j.Corners {
		f.Place[i] = [2]figure{figure(p.X), figure(p.Y)}
	}
	for _, s := range j.Scans {
		f.Scans = append(f.Scans, lineOf(s))
	}
	if q := j.Quality; q != nil {
		f.Quality = &areaForm{Edition: q.Edition, Rmin: figure(q.Rmin), Rmax: figure(q.Rmax), Why: q.Why.String(), Figures: []partForm{}}
		for _, x := range q.Figures {
			f.Quality.Figures = append(f.Quality.Figures, partForm{x.Parameter.String(), figure(x.Value), figure(x.Grade), x.Why.String()})
		}
	}
	if len(j.Doubts) > 0 {
		for _, d := range j.Doubts {
			f.NotGraded = append(f.NotGraded, d.String())
		}
		return f
	}
	g := j.Grade
	f.Grade = &valueForm{figure(g.Value), g.Letter, g.Text, g.Aperture.Ref, figure(g.Aperture.Diameter.MM()), figure(g.Light)}
	if accept != nil {
		ok, why := accept.Accepts(g)
		f.Accepted = &acceptForm{accept.Name, ok, why.String()}
	}
	return f
}

func lineOf(s grade.Scan) lineForm {
	f := lineForm{Rmin: figure(s.Rmin), Rmax: figure(s.Rmax), SC: figure(s.SC), ECmin: figure(s.ECmin), MOD: figure(s.MOD), Defects: figure(s.Defects),
		Decodability: figure(s.Reading.Decodability), QuietLeft: figure(s.QuietLeft), QuietRight: figure(s.QuietRight), Decoded: s.Decoded,
		Grades: map[string]figure{}, Grade: figure(s.Grade), Why: s.Why.String()}
	for _, p := range []grade.Parameter{grade.Decode, grade.MinReflectance, grade.MinEdge, grade.Contrast, grade.Modulation, grade.Defects, grade.Decodability, grade.QuietZone} {
		f.Grades[p.String()] = figure(s.Grades[p])
	}
	return f
}
