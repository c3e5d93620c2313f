package proof

import (
	"reflect"
	"sync"

	"unspool/face"
	"unspool/ink"
	"unspool/light"
	"unspool/panel"
	"unspool/site"
)

// earlier is a proof of an earlier state of a programme, from which a new one
// takes what still holds. The zero value has nothing to give.
type earlier struct{ pf *Proof }

func (pf *Proof) earlier() earlier { return earlier{pf} }

// inksOf is the earlier ink model where the ribbon's inks are the same.
func (e earlier) inksOf(i site.Ink) (inks, error) {
	if e.pf != nil && reflect.DeepEqual(i, e.pf.Programme.Ribbon.Ink) {
		return e.pf.inks, nil
	}
	return inksOf(i)
}

// plan is the earlier plan of a side, nil where there was none.
func (e earlier) plan(s site.Side) *face.Plan {
	if e.pf == nil || e.pf.sides[s] == nil {
		return nil
	}
	return e.pf.sides[s].plan
}

// eye is how the eye sees a side, worked out when it is first asked for.
func (e earlier) eye(d *side) func() *light.Eye {
	if e.pf != nil && e.pf.sides[d.Side] != nil && e.pf.sides[d.Side].scene == d.scene {
		return e.pf.sides[d.Side].eye
	}
	return sync.OnceValue(func() *light.Eye { return d.scene.Eye(ink.Absolute) })
}

// lit is the earlier light of a side at every reader, nil where the readers are
// others or the side comes out otherwise under them.
func (e earlier) lit(pf *Proof, d *side) []lighting {
	if e.pf == nil || e.pf.sides[d.Side] == nil || e.pf.sides[d.Side].scene != d.scene || !reflect.DeepEqual(e.pf.Readers, pf.Readers) {
		return nil
	}
	return e.pf.sides[d.Side].lit
}

// reader is a reader made ready, earlier or now.
func (e earlier) reader(r site.Reader, m *ink.Model) reader {
	if e.pf != nil && e.pf.inks.model == m {
		for i := range e.pf.readers {
			if reflect.DeepEqual(e.pf.readers[i].Reader, r) {
				return e.pf.readers[i]
			}
		}
	}
	return newReader(r, m)
}

// setup is the earlier separation of a side, nil where something that decides it
// is another.
func (e earlier) setup(pf *Proof, s site.Side) *panel.Setup {
	if e.pf == nil || e.pf.sides[s] == nil || e.pf.inks.model != pf.inks.model {
		return nil
	}
	was, p := e.pf.Programme, pf.Programme
	if was.Dye != p.Dye || !reflect.DeepEqual(was.Black[s], p.Black[s]) || !reflect.DeepEqual(was.Card, p.Card) ||
		!reflect.DeepEqual(was.Printer, p.Printer) || !reflect.DeepEqual(was.Ribbon, p.Ribbon) {
		return nil
	}
	return e.pf.sides[s].setup
}
