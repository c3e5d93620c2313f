package face

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"unspool/design"
	"unspool/face/picture"
	"unspool/plane"
)

func TestPhotoNotes(t *testing.T) {
	jpg := asJPEG(t, portrait(1, 480, 640))
	a := files{data: map[string][]byte{"photos/a.jpg": jpg, "photos/small.jpg": asJPEG(t, portrait(1, 200, 270)), "photos/tiny.jpg": asJPEG(t, portrait(1, 90, 120)),
		"photos/cut.jpg": jpg[:5000], "photos/text.jpg": []byte("no picture"), "secret.png": asPNG(t, portrait(1, 480, 640))}}
	for _, c := range []struct {
		file   string
		kind   NoteKind
		detail string
		none   bool
	}{
		{file: "a.jpg", none: true},
		{file: " a.jpg ", none: true},
		{file: "", kind: PhotoMissing, detail: "names none"},
		{file: "b.jpg", kind: PhotoMissing, detail: "photos/b.jpg"},
		{file: "cut.jpg", kind: PhotoUnreadable, detail: "ends too early"},
		{file: "text.jpg", kind: PhotoUnreadable, detail: "save it as JPEG"},
		{file: "../secret.png", kind: PhotoUnreadable, detail: "leads out of the photo folder"},
		{file: "x/../../secret.png", kind: PhotoUnreadable, detail: "leads out of the photo folder"},
		{file: "/secret.png", kind: PhotoUnreadable, detail: "leads out of the photo folder"},
		{file: `..\secret.png`, kind: PhotoUnreadable, detail: "leads out of the photo folder"},
		{file: "small.jpg", kind: PhotoUpscaled},
		{file: "tiny.jpg", kind: PhotoTiny},
	} {
		e := design.Element{Box: box(4, 15, 22, 29.4), Photo: &design.Photo{File: field("photo"), Folder: "photos", AnchorX: 0.5, AnchorY: 0.35}}
		got := once(t, a, person{"photo": c.file}, e).Notes
		switch {
		case c.none && len(got) > 0, !c.none && (len(got) != 1 || got[0].Kind != c.kind || !strings.Contains(got[0].Detail.String(), c.detail)):
			t.Errorf("%q: %v", c.file, got)
		case c.kind == PhotoUpscaled && math.Abs(got[0].Value-200.0/260) > 0.01:
			t.Errorf("%q: %.3f pixels a dot", c.file, got[0].Value)
		case c.kind == PhotoTiny && (math.Abs(got[0].Value-90) > 1 || got[0].Limit != 260):
			t.Errorf("%q: %v pixels for %v dots", c.file, got[0].Value, got[0].Limit)
		}
	}
}

// A picture keeps its shape on the card whatever the shape of the dots is.
func TestFit(t *testing.T) {
	square := plane.Grid{W: 1011, H: 638, DX: 300, DY: 300}
	tall := plane.Grid{W: 1011, H: 1275, DX: 300, DY: 600}
	for _, c := range []struct {
		name string
		g    plane.Grid
		how  design.Fit
		w, h float64
		rect plane.Rect
		crop picture.Crop
	}{
		// A box of 12.7 x 25.4 mm from 2.54 mm on: dots 30 to 180 and 30 to 330.
		{"cover, wide", square, design.Cover, 400, 300, plane.Rect{X0: 30, Y0: 30, X1: 180, Y1: 330}, picture.Crop{X0: 125, X1: 275, Y1: 300}},
		{"cover, tall", square, design.Cover, 100, 300, plane.Rect{X0: 30, Y0: 30, X1: 180, Y1: 330}, picture.Crop{Y0: 25, X1: 100, Y1: 225}},
		{"contain, wide", square, design.Contain, 400, 300, plane.Rect{X0: 30, Y0: 123, X1: 180, Y1: 236}, picture.Crop{X1: 400, Y1: 300}},
		{"stretch", square, design.Stretch, 400, 300, plane.Rect{X0: 30, Y0: 30, X1: 180, Y1: 330}, picture.Crop{X1: 400, Y1: 300}},
		{"cover, tall dots", tall, design.Cover, 400, 300, plane.Rect{X0: 30, Y0: 60, X1: 180, Y1: 660}, picture.Crop{X0: 125, X1: 275, Y1: 300}},
		{"contain, tall dots", tall, design.Contain, 300, 300, plane.Rect{X0: 30, Y0: 210, X1: 180, Y1: 510}, picture.Crop{X1: 300, Y1: 300}},
	} {
		ay := 0.25
		if c.how == design.Contain {
			ay = 0.5
		}
		rect, crop := fit(c.g, box(2.54, 2.54, 12.7, 25.4), c.w, c.h, c.how, 0.5, ay)
		if rect != c.rect || math.Abs(crop.X0-c.crop.X0)+math.Abs(crop.Y0-c.crop.Y0)+math.Abs(crop.X1-c.crop.X1)+math.Abs(crop.Y1-c.crop.Y1) > 1e-6 {
			t.Errorf("%s: %v %v, want %v %v", c.name, rect, crop, c.rect, c.crop)
		}
	}
}

// What hangs over the face's edge is cut, and what is left is the same as of a
// picture that lies on the face as a whole.
func TestPictureOverTheEdge(t *testing.T) {
	a := files{data: map[string][]byte{"p.png": asPNG(t, portrait(3, 300, 200))}}
	p := design.Picture{File: "p.png", Fit: design.Stretch}
	whole := once(t, a, nil, design.Element{Box: box(10.16, 10.16, 25.4, 16.9333), Picture: &p}).Art
	over := once(t, a, nil, design.Element{Box: box(-10.16, -5.08, 25.4, 16.9333), Picture: &p}).Art
	for y := range 100 {
		for x := range 150 {
			i, j := over.At(x, y), whole.At(x+240, y+180)
			for k := range 3 {
				if d := int(over.Page[3*i+k]) - int(whole.Page[3*j+k]); d < -1 || d > 1 {
					t.Fatalf("dot %d, %d: %d, not %d", x, y, over.Page[3*i+k], whole.Page[3*j+k])
				}
			}
		}
	}
	off := once(t, a, nil, design.Element{Box: box(90, 10, 10, 10), Picture: &p})
	if len(off.Notes) != 1 || off.Notes[0].Kind != OffFace || math.Abs(off.Notes[0].Value-14.4) > 0.1 {
		t.Error(off.Notes)
	}
}

// Sent to a panel that knows yes and no, a picture's dark parts are its ink.
func TestPictureSentByHand(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 90, 30))
	for y := range 30 {
		for x := range 90 {
			m.SetNRGBA(x, y, [3]color.NRGBA{{0, 0, 0, 255}, {255, 255, 255, 255}, {0, 0, 0, 0}}[x/30])
		}
	}
	a := files{data: map[string][]byte{"p.png": asPNG(t, m)}}
	for send, mark := range map[design.Send]Mark{design.ToResin: Resin, design.ToFluor: Fluor, design.ToSpecial: Special} {
		e := design.Element{Send: send, Box: box(10.16, 10.16, 7.62, 2.54), Picture: &design.Picture{File: "p.png", Fit: design.Stretch}}
		art := once(t, a, nil, e).Art
		for third, want := range []Mark{mark, 0, 0} {
			if got := art.Mark[art.At(120+15+30*third, 135)]; got != want {
				t.Errorf("%v, third %d: %b, not %b", send, third, got, want)
			}
		}
	}
}

func TestColourProfileIsNoted(t *testing.T) {
	// A CMYK JPEG as print shops send, 8 x 8, from ImageMagick.
	a := files{data: map[string][]byte{"p.jpg": cmykJPEG(t)}}
	got := once(t, a, nil, design.Element{Box: box(10, 10, 0.5, 0.5), Picture: &design.Picture{File: "p.jpg"}}).Notes
	if len(got) != 1 || got[0].Kind != ColourAssumed {
		t.Error(got)
	}
}
