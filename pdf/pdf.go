// Package pdf writes PDF 1.7 files (ISO 32000-1:2008): pages of filled and
// stroked outlines, pictures and text, with a title, a language and a reading
// order for screen readers. It is small on purpose: what a page of this project
// shows, and no more. Clause numbers are from memory.
//
// A page is measured in millimetres from its top-left corner, x to the right, y
// down. The same calls give the same bytes: no date is written, and the file's
// identifier is taken from its contents.
//
// Text is set from left to right, one glyph a character. Scripts whose letters
// join or change places are not set; see Font.Sets.
package pdf

import (
	"crypto/sha256"
	"fmt"
	"strings"
)

// Doc is a document being written.
type Doc struct {
	// TrueSize asks viewers to print at 100 % instead of fitting the page to the
	// paper (12.2, PrintScaling).
	TrueSize bool

	title, lang string
	pages       []*Page
	images      map[[sha256.Size]byte]*Image
	imageList   []*Image
	faces       map[[sha256.Size]byte]*face
	faceList    []*face
	err         error // the first thing that could not be drawn
}

// New begins a document. lang is a language tag such as "en" (BCP 47).
func New(title, lang string) *Doc {
	return &Doc{title: title, lang: lang, images: map[[sha256.Size]byte]*Image{}, faces: map[[sha256.Size]byte]*face{}}
}

// PerMM is the number of PDF units, 1/72 of an inch, in a millimetre.
const PerMM = 72 / 25.4

// The sizes that a page may have, in PDF units: Annex C, table C.1.
const (
	leastPage = 3
	mostPage  = 14400
)

// Page adds a page of w by h millimetres.
func (d *Doc) Page(w, h float64) *Page {
	if !(min(w, h)*PerMM >= leastPage && max(w, h)*PerMM <= mostPage) {
		d.fail(fmt.Errorf("pdf: page %d is %g by %g mm; a page is 1.1 to 5080 mm long", len(d.pages)+1, w, h))
	}
	p := &Page{doc: d, n: len(d.pages), w: w, h: h}
	d.pages = append(d.pages, p)
	// From here on a unit is a millimetre, and y runs down (8.3.4).
	p.op("cm", PerMM, 0, 0, -PerMM, 0, h*PerMM)
	return p
}

// fail keeps the first error; Bytes returns it.
func (d *Doc) fail(err error) {
	if d.err == nil {
		d.err = err
	}
}

// Bytes closes the document. An error means that something was drawn that no
// page can show, such as a length that is no number.
func (d *Doc) Bytes() ([]byte, error) {
	if len(d.pages) == 0 {
		d.fail(fmt.Errorf("pdf: the document has no page"))
	}
	for _, p := range d.pages {
		p.turn(nothing)
	}
	f := new(file)
	root, info, pages := f.next(), f.next(), f.next()
	resources := d.resources(f)
	kids := make([]ref, len(d.pages))
	for i := range d.pages {
		kids[i] = f.next()
	}
	for i, p := range d.pages {
		content := f.stream("", []byte(p.content.String()))
		f.put(kids[i], fmt.Sprintf("<</Type/Page/Parent %s/MediaBox[0 0 %s %s]/Contents %s/Resources %s/StructParents %d/Tabs/S>>",
			pages, number(p.w*PerMM), number(p.h*PerMM), content, resources, i))
	}
	f.put(pages, fmt.Sprintf("<</Type/Pages/Kids[%s]/Count %d>>", refs(kids), len(kids)))
	f.put(info, "<</Title"+text(d.title)+"/Producer"+text("Unspool")+">>")
	scaling := ""
	if d.TrueSize {
		scaling = "/PrintScaling/None"
	}
	f.put(root, fmt.Sprintf("<</Type/Catalog/Version/1.7/Pages %s/Lang%s/MarkInfo<</Marked true>>/StructTreeRoot %s/ViewerPreferences<</DisplayDocTitle true%s>>>>",
		pages, text(d.lang), d.structure(f, kids), scaling))
	if d.err != nil {
		return nil, d.err
	}
	return f.bytes(root, info), nil
}

// resources are the fonts and pictures of all pages; every page shares them
// (7.8.3).
func (d *Doc) resources(f *file) ref {
	var fonts, images strings.Builder
	for _, a := range d.faceList {
		if len(a.runes) == 0 {
			continue
		}
		r, err := a.write(f)
		if err != nil {
			d.fail(err)
		}
		fmt.Fprintf(&fonts, "/%s %s", a.name, r)
	}
	for _, m := range d.imageList {
		if m.drawn {
			fmt.Fprintf(&images, "/%s %s", m.name, m.write(f))
		}
	}
	return f.add("<</Font<<" + fonts.String() + ">>/XObject<<" + images.String() + ">>>>")
}
