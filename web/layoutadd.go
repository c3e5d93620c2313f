package web

import (
	"unspool/code"
	"unspool/design/edit"
	"unspool/site"
	"unspool/symbol"
)

// fresh is the size of a new element in millimetres and what it takes besides.
var fresh = map[string][2]float64{
	"text": {40, 6}, "code": {50, 12}, "mrz": {76.3, 16}, "photo": {22, 29.3}, "picture": {15, 15}, "line": {40, 0}, "rectangle": {30, 15}, "ellipse": {20, 20},
}

// freshGrid is the size of a new two-dimensional code in millimetres, by what it is
// made of.
var freshGrid = map[symbol.Family][2]float64{symbol.Square: {20, 20}, symbol.MultiRow: {45, 16}}

// freshSize is the size of the letters of a new text, in millimetres: about 10
// point (own judgement).
const freshSize = 3.5

// freshZone is how far above the bottom edge the box of a new machine readable
// zone begins, in millimetres; see docs/programme.md.
const freshZone = 20.5

// added puts a new element on a side: in the box that is asked for or in the
// middle of the face, with what it needs to be seen.
func (s *snapshot) added(side site.Side, c changeForm) (change, error) {
	size, ok := fresh[c.Kind]
	if !ok {
		return nil, refused{"there is no such kind of element", "load the page again"}
	}
	if c.Kind == "code" {
		if k, _ := code.ByName(s.readable()); !k.Family.Linear() {
			size = freshGrid[k.Family]
		}
	}
	card := s.programme.Card
	box := [4]float64{(card.W.MM() - size[0]) / 2, (card.H.MM() - size[1]) / 2, size[0], size[1]}
	if c.Kind == "mrz" {
		box[1] = card.H.MM() - freshZone
	}
	if c.Box != nil {
		box = *c.Box
	}
	if c.Kind == "picture" && c.Text == "" {
		return nil, refused{"a picture needs its file", "put a picture into the programme folder and name it"}
	}
	at := 0
	if f := s.programme.Faces[side]; f != nil {
		at = len(f.Elements)
	}
	if c.At != nil {
		at = *c.At
	}
	return func(src *edit.Source) (edit.Change, error) {
		return edit.AddElement{Side: side, At: at, Element: edit.Group(s.keysOf(src, c, boxValue(box))...)}, nil
	}, nil
}

// keysOf are the keys of a new element.
func (s *snapshot) keysOf(src *edit.Source, c changeForm, box edit.Value) []edit.Pair {
	text := edit.Text(c.Text)
	if c.Text == "" {
		text = edit.Text("{" + s.programme.Roster.Key + "}")
	}
	switch c.Kind {
	case "text":
		return []edit.Pair{{Key: "text", Value: text}, {Key: "box", Value: box}, {Key: "size", Value: edit.Number(freshSize)}}
	case "code":
		return []edit.Pair{{Key: "code", Value: edit.Text(s.readable())}, {Key: "text", Value: text}, {Key: "box", Value: box},
			{Key: "x", Value: edit.Text("auto")}, {Key: "backing", Value: edit.Flag(true)}}
	case "mrz":
		return append(s.zoneKeys(text), edit.Pair{Key: "box", Value: box})
	case "photo":
		file, folder := s.photoIn(src)
		if c.Text != "" {
			file = text
		}
		return []edit.Pair{{Key: "photo", Value: file}, {Key: "folder", Value: folder}, {Key: "box", Value: box}}
	case "picture":
		return []edit.Pair{{Key: "picture", Value: text}, {Key: "box", Value: box}, {Key: "fit", Value: edit.Text("contain")}}
	case "line":
		return []edit.Pair{{Key: "line", Value: box}}
	}
	return []edit.Pair{{Key: c.Kind, Value: box}, {Key: "stroke", Value: edit.Text("black")}}
}

// readable is a code that a reader of the site is meant to read.
func (s *snapshot) readable() string {
	for _, r := range s.programme.Readers {
		if len(r.Accepts) > 0 {
			return r.Accepts[0].Kind
		}
	}
	return "code128"
}

// photoIn is the photo that the programme has already, or the one usually meant.
func (s *snapshot) photoIn(src *edit.Source) (file, folder edit.Value) {
	file, folder = edit.Text("{"+s.programme.Roster.Key+"}.jpg"), edit.Text("photos")
	for side, f := range s.programme.Faces {
		for i := 0; f != nil && i < len(f.Elements); i++ {
			at := edit.Element(site.Side(side), i)
			if v, ok := src.Value(at.Key("photo")); ok {
				return v, edit.Text(f.Elements[i].Photo.Folder)
			}
		}
	}
	return file, folder
}
