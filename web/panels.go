package web

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"image/png"
	"net/http"
	"strings"

	"unspool/ink"
	"unspool/panel"
)

type filmForm struct {
	Through []number `json:"through"`
	Body    []number `json:"body"`
}

type lightForm struct {
	From    number    `json:"from"`
	Step    number    `json:"step"`
	Surface number    `json:"surface"`
	Card    []number  `json:"card"`
	Y       []number  `json:"y"`
	M       []number  `json:"m"`
	C       []number  `json:"c"`
	K       filmForm  `json:"k"`
	S       *filmForm `json:"s"`
	Clear   []number  `json:"clear"`
}

// getLight is the ink model by wavelength; see ink.Spectra for its meaning.
func (b *Bench) getLight(*http.Request) (any, error) {
	s, special := b.now.Load().pf.Spectra()
	f := lightForm{From: number(s.From), Step: number(s.Step), Surface: number(s.Surface), Card: numbers(s.Card),
		Y: numbers(s.Y), M: numbers(s.M), C: numbers(s.C), K: filmOf(s.Resin), Clear: numbers(s.Clear)}
	if special {
		film := filmOf(s.Special)
		f.S = &film
	}
	return f, nil
}

func filmOf(f ink.Film) filmForm { return filmForm{numbers(f.Through), numbers(f.Body)} }

// panelsHead is the head of an answer with panels: "UNSP", the length of this
// JSON as four bytes, the lowest first, the JSON, then w*h bytes for each plane
// and, where owner is set, two for each dot's owner, the lower first.
type panelsHead struct {
	W        int      `json:"w"`
	H        int      `json:"h"`
	Planes   []string `json:"planes"`
	Owner    bool     `json:"owner"`
	Revision int      `json:"revision"`
}

func (b *Bench) getPanels(w http.ResponseWriter, r *http.Request) {
	s := b.now.Load()
	k, err := s.shown(r)
	if err != nil {
		fail(w, err)
		return
	}
	side, err := on(k, r.PathValue("side"))
	if err != nil {
		fail(w, err)
		return
	}
	sendPanels(w, s.revision, side.Panels, side.Owner)
}

func (b *Bench) getRulePanels(w http.ResponseWriter, r *http.Request) {
	s := b.now.Load()
	p, err := s.under(r, r.PathValue("side"), r.PathValue("rule"))
	if err != nil {
		fail(w, err)
		return
	}
	sendPanels(w, s.revision, p, nil)
}

// under is a side of the card that an address names, under a black rule.
func (s *snapshot) under(r *http.Request, sideName, ruleName string) (*panel.Panels, error) {
	k, err := s.shown(r)
	if err != nil {
		return nil, err
	}
	side, err := on(k, sideName)
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

func sendPanels(w http.ResponseWriter, revision int, p *panel.Panels, owner []uint16) {
	head := panelsHead{W: p.W, H: p.H, Planes: []string{}, Owner: owner != nil, Revision: revision}
	parts := [][]byte{nil}
	for _, q := range planes(p) {
		if *q.dots != nil {
			head.Planes = append(head.Planes, q.name)
			parts = append(parts, *q.dots)
		}
	}
	data, err := json.Marshal(head)
	if err != nil {
		panic("web: " + err.Error()) // numbers and words
	}
	for len(data)%4 != 0 {
		data = append(data, ' ')
	}
	parts[0] = append(binary.LittleEndian.AppendUint32([]byte("UNSP"), uint32(len(data))), data...)
	if owner != nil {
		low := make([]byte, 0, 2*len(owner))
		for _, o := range owner {
			low = binary.LittleEndian.AppendUint16(low, o)
		}
		parts = append(parts, low)
	}
	sendBytes(w, http.StatusOK, "application/octet-stream", parts...)
}

// getEye is a side as the eye sees it, as PNG; panels=ymck lays only those
// planes, rule=objects separates by that black rule, quick=1 does not compress, for
// a page that asks again with every step of a hand.
func (b *Bench) getEye(w http.ResponseWriter, r *http.Request) {
	picture, err := b.eye(r)
	if err != nil {
		fail(w, err)
		return
	}
	sendBytes(w, http.StatusOK, "image/png", picture)
}

func (b *Bench) eye(r *http.Request) ([]byte, error) {
	name, isPNG := strings.CutSuffix(r.PathValue("file"), ".png")
	if !isPNG {
		return nil, missing{"there is no such picture", "ask for front.png or back.png"}
	}
	s, q := b.now.Load(), r.URL.Query()
	k, err := s.shown(r)
	if err != nil {
		return nil, err
	}
	side, err := on(k, name)
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
	level := png.BestSpeed
	if q.Get("quick") == "1" {
		level = png.NoCompression
	}
	err = (&png.Encoder{CompressionLevel: level}).Encode(&out, side.Eye(p))
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
