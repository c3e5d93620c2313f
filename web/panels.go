package web

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"image/png"
	"math"
	"net/http"
	"strings"

	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/proof"
	"unspool/site"
)

type filmForm struct {
	Through []number `json:"through"`
	Body    []number `json:"body"`
}

type lightForm struct {
	From    number              `json:"from"`
	Step    number              `json:"step"`
	Surface number              `json:"surface"`
	Card    []number            `json:"card"`
	Y       []number            `json:"y"`
	M       []number            `json:"m"`
	C       []number            `json:"c"`
	K       filmForm            `json:"k"`
	S       map[string]filmForm `json:"s"` // by side, where it has a special resin
	Clear   []number            `json:"clear"`
}

// getLight is the ink model by wavelength; see ink.Spectra for its meaning.
func (b *Bench) getLight(*http.Request) (any, error) { return lightOf(b.now.Load().pf), nil }

func lightOf(pf *proof.Proof) lightForm {
	s, special := pf.Spectra()
	f := lightForm{From: number(s.From), Step: number(s.Step), Surface: number(s.Surface), Card: numbers(s.Card),
		Y: numbers(s.Y), M: numbers(s.M), C: numbers(s.C), K: filmOf(s.Resin), S: map[string]filmForm{}, Clear: numbers(s.Clear)}
	for side, film := range special {
		if film != nil {
			f.S[site.Side(side).String()] = filmOf(*film)
		}
	}
	return f
}

func filmOf(f ink.Film) filmForm { return filmForm{numbers(f.Through), numbers(f.Body)} }

// panelsHead is the head of an answer with dots of a face: "UNSP", the length of
// this JSON as four bytes, the lowest first, the JSON, then w*h bytes for each
// plane and, where owner is set, two for each dot's owner, the lower first. A
// plane "rgba" has four bytes a dot. X and Y are where on the face the first dot
// lies.
type panelsHead struct {
	X        int      `json:"x"`
	Y        int      `json:"y"`
	W        int      `json:"w"`
	H        int      `json:"h"`
	Planes   []string `json:"planes"`
	Owner    bool     `json:"owner"`
	Over     bool     `json:"over,omitempty"` // planes are told by what they have other than the card's own
	Revision int      `json:"revision"`
}

func (b *Bench) getPanels(w http.ResponseWriter, r *http.Request) {
	s := b.now.Load()
	k, side, err := s.sideShown(r, r.PathValue("side"))
	if err != nil {
		fail(w, err)
		return
	}
	in, err := s.asked(r, k, side)
	if err != nil {
		fail(w, err)
		return
	}
	sendPanels(w, s.revision, side.Panels, side.Owner, in)
}

// asked is the part of a side that a page asks for: with since=REVISION what it
// does not have since then, which may be nothing, else all of it.
func (s *snapshot) asked(r *http.Request, k *proof.Shown, side *proof.ShownSide) (plane.Rect, error) {
	all := side.Panels.Rect()
	if !r.URL.Query().Has("since") {
		return all, nil
	}
	revision, err := whole(r, "since", 0, math.MaxInt32)
	if err != nil {
		return all, err
	}
	if was := s.since(revision, k); was != nil {
		return side.Differs(was.On(side.Side)), nil
	}
	return all, nil
}

// getRulePanels is a side of a card under a black rule. A page that holds the
// card's own panels says so with over=REVISION and is told what is other.
func (b *Bench) getRulePanels(w http.ResponseWriter, r *http.Request) {
	s, name := b.now.Load(), r.PathValue("side")
	p, err := s.under(r, name, r.PathValue("rule"))
	if err != nil {
		fail(w, err)
		return
	}
	held, err := whole(r, "over", 0, math.MaxInt32)
	if err != nil {
		fail(w, err)
		return
	}
	if _, side, err := s.sideShown(r, name); err == nil && held == s.revision {
		sendOver(w, s.revision, side.Panels, p)
		return
	}
	sendPanels(w, s.revision, p, nil, p.Rect())
}

// sendOver sends what panels have other than own, which has the same planes.
func sendOver(w http.ResponseWriter, revision int, own, p *panel.Panels) {
	head := headOf(revision, p.Rect())
	head.Over = true
	var parts [][]byte
	base := planes(own)
	for i, q := range planes(p) {
		if *q.dots != nil {
			head.Planes = append(head.Planes, q.name)
			parts = append(parts, over(*base[i].dots, *q.dots))
		}
	}
	sendDots(w, head, parts...)
}

// under is a side of the card that an address names, under a black rule.
func (s *snapshot) under(r *http.Request, sideName, ruleName string) (*panel.Panels, error) {
	k, side, err := s.sideShown(r, sideName)
	if err != nil {
		return nil, err
	}
	rule, err := ruleOf(ruleName)
	if err != nil {
		return nil, err
	}
	if p := k.Under(side.Side, rule); p != nil {
		return p, nil
	}
	return nil, missing{"this side has no black rule to choose", "a side has one where its panels hold both dyes and black resin"}
}

// sendPanels sends a part of panels and of what their dots belong to.
func sendPanels(w http.ResponseWriter, revision int, p *panel.Panels, owner []uint16, in plane.Rect) {
	head := headOf(revision, in)
	head.Owner = owner != nil
	var parts [][]byte
	for _, q := range planes(p) {
		if *q.dots != nil {
			head.Planes = append(head.Planes, q.name)
			parts = append(parts, cut(p.Grid, *q.dots, in))
		}
	}
	if owner != nil {
		low := make([]byte, 0, 2*in.W()*in.H())
		for y := in.Y0; y < in.Y1; y++ {
			for _, o := range owner[p.At(in.X0, y):p.At(in.X1, y)] {
				low = binary.LittleEndian.AppendUint16(low, o)
			}
		}
		parts = append(parts, low)
	}
	sendDots(w, head, parts...)
}

func headOf(revision int, in plane.Rect) panelsHead {
	return panelsHead{X: in.X0, Y: in.Y0, W: in.W(), H: in.H(), Planes: []string{}, Revision: revision}
}

// cut is a part of a plane.
func cut(g plane.Grid, dots []byte, in plane.Rect) []byte {
	if in == g.Rect() {
		return dots
	}
	out := make([]byte, 0, in.W()*in.H())
	for y := in.Y0; y < in.Y1; y++ {
		out = append(out, dots[g.At(in.X0, y):g.At(in.X1, y)]...)
	}
	return out
}

// sendDots sends dots under their head, which is filled up so that they begin at
// a multiple of four.
func sendDots(w http.ResponseWriter, head panelsHead, parts ...[]byte) {
	data, err := json.Marshal(head)
	if err != nil {
		panic("web: " + err.Error()) // numbers and words
	}
	for len(data)%4 != 0 {
		data = append(data, ' ')
	}
	first := append(binary.LittleEndian.AppendUint32([]byte("UNSP"), uint32(len(data))), data...)
	sendBytes(w, http.StatusOK, "application/octet-stream", append([][]byte{first}, parts...)...)
}

// getEye is a side as the eye sees it: SIDE.png as PNG, where panels=ymck lays
// only those planes and rule=objects separates by that black rule, or SIDE.rgba
// as dots under a head, where since=REVISION leaves out what has not changed.
func (b *Bench) getEye(w http.ResponseWriter, r *http.Request) {
	if name, raw := strings.CutSuffix(r.PathValue("file"), ".rgba"); raw {
		b.sendEye(w, r, name)
		return
	}
	picture, err := b.eye(r)
	if err != nil {
		fail(w, err)
		return
	}
	sendBytes(w, http.StatusOK, "image/png", picture)
}

func (b *Bench) sendEye(w http.ResponseWriter, r *http.Request, name string) {
	s := b.now.Load()
	k, side, err := s.sideShown(r, name)
	if err != nil {
		fail(w, err)
		return
	}
	in, err := s.asked(r, k, side)
	if err != nil {
		fail(w, err)
		return
	}
	head := headOf(s.revision, in)
	head.Planes = append(head.Planes, "rgba")
	sendDots(w, head, side.EyeIn(side.Panels, in).Pix)
}

func (b *Bench) eye(r *http.Request) ([]byte, error) {
	name, isPNG := strings.CutSuffix(r.PathValue("file"), ".png")
	if !isPNG {
		return nil, missing{"there is no such picture", "ask for front.png or back.png"}
	}
	s, q := b.now.Load(), r.URL.Query()
	_, side, err := s.sideShown(r, name)
	if err != nil {
		return nil, err
	}
	p := side.Panels
	if q.Has("rule") {
		if p, err = s.under(r, name, q.Get("rule")); err != nil {
			return nil, err
		}
	}
	if q.Has("panels") {
		if p, err = only(p, q.Get("panels")); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&out, side.Eye(p))
	return out.Bytes(), err
}

// only is some planes of a face.
func only(p *panel.Panels, names string) (*panel.Panels, error) {
	some := &panel.Panels{Grid: p.Grid}
	from, to := planes(p), planes(some)
	for _, n := range names {
		found := false
		for i := range from {
			if from[i].name == string(n) {
				*to[i].dots, found = *from[i].dots, true
			}
		}
		if !found {
			return nil, refused{"there is no such panel", "name panels by y, m, c, k, o, f and s"}
		}
	}
	return some, nil
}
