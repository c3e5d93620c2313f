package pdf

import (
	"fmt"
	"strings"
)

// Role is what a part of a page is to a reader by ear (14.8.4).
type Role string

// Roles.
const (
	Heading    Role = "H1"
	Subheading Role = "H2"
	Paragraph  Role = "P"
	Figure     Role = "Figure"
)

// tag is one part of a page in the reading order.
type tag struct {
	role  Role
	alt   string
	marks []int // numbers of its stretches of content
}

// marking says what the stretch of content being written is.
type marking uint8

const (
	nothing    marking = iota // outside any marked stretch
	decoration                // drawn, but of no meaning (14.8.2.2)
	part                      // of the reading order
)

// drawing asks for whatever the page is in: a part, or else decoration.
const drawing = decoration

// Tagged draws a part of the page that is read aloud, in the order of the calls;
// alt says what a figure shows. What is drawn outside any part is decoration and
// passed over. Parts do not nest.
func (p *Page) Tagged(r Role, alt string, draw func()) {
	if p.open {
		p.doc.fail(fmt.Errorf("pdf: page %d: a %s begins within another part", p.n+1, r))
		return
	}
	p.turn(nothing)
	p.open = true
	p.tags = append(p.tags, tag{role: r, alt: alt})
	draw()
	p.turn(nothing)
	p.open = false
}

// turn ends the marked stretch that is open and begins the next one (14.6). A
// part may be drawn in several stretches, each of its own number.
func (p *Page) turn(to marking) {
	if to == drawing && p.open {
		to = part
	}
	if to == p.state {
		return
	}
	if p.state != nothing {
		p.op("EMC")
	}
	switch to {
	case decoration:
		p.content.WriteString("/Artifact ")
		p.op("BMC")
	case part:
		t := &p.tags[len(p.tags)-1]
		fmt.Fprintf(&p.content, "/%s <</MCID %d>> ", t.role, p.marks)
		t.marks = append(t.marks, p.marks)
		p.marks++
		p.op("BDC")
	}
	p.state = to
}

// structure writes the reading order: a document that holds every part
// (14.7.2), and the way back from a page to its parts (14.7.4.4).
func (d *Doc) structure(f *file, pages []ref) ref {
	root, whole := f.next(), f.next()
	var all []ref
	var back strings.Builder
	for i, p := range d.pages {
		of := make([]ref, p.marks) // the part that each stretch belongs to
		for _, t := range p.tags {
			alt := ""
			if t.alt != "" {
				alt = "/Alt" + text(t.alt)
			}
			r := f.add(fmt.Sprintf("<</Type/StructElem/S/%s/P %s/Pg %s/K%d%s>>", t.role, whole, pages[i], t.marks, alt))
			for _, m := range t.marks {
				of[m] = r
			}
			all = append(all, r)
		}
		fmt.Fprintf(&back, "%d[%s]", i, refs(of))
	}
	f.put(whole, fmt.Sprintf("<</Type/StructElem/S/Document/P %s/K[%s]>>", root, refs(all)))
	f.put(root, fmt.Sprintf("<</Type/StructTreeRoot/K %s/ParentTree<</Nums[%s]>>/ParentTreeNextKey %d>>", whole, back.String(), len(d.pages)))
	return root
}
