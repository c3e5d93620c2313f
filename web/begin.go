package web

import (
	"bytes"
	"encoding/base64"
	"errors"
	"image"
	"image/color"
	"image/png"
	"net/http"
	"slices"
	"strings"
	"time"

	"unspool/design/edit"
	"unspool/folder"
	"unspool/site"
)

// ready lets only the beginning of a programme be asked for until there is one,
// and nothing of it from then on.
func (b *Bench) ready(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		path := r.URL.Path
		begins := path == "/api/begin" || strings.HasPrefix(path, "/api/begin/")
		switch begun := b.now.Load() != nil; {
		case begun && begins:
			fail(w, errBegun)
		case !begun && !begins && strings.HasPrefix(path, "/api/") && path != "/api/bench" && path != "/api/sign-in":
			fail(w, conflict{"there is no programme on the bench yet", "begin one first"})
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// errBegun answers whoever would begin a programme where there is one.
var errBegun = conflict{"a programme has been begun here already", "load the page again to see it"}

// fileTime is how long a file may take to come in, over a slow line, answerTime how
// long the answer to it may take then.
const (
	fileTime   = 10 * time.Minute
	answerTime = time.Minute
)

// postFile takes a file into the folder: its bytes are the body, its name is in
// the query.
func (b *Bench) postFile(w http.ResponseWriter, r *http.Request) {
	// Where the connection has no such deadlines the server's own hold. That of the
	// answer runs from the head of the request: a file may come in for longer.
	line := http.NewResponseController(w)
	line.SetReadDeadline(time.Now().Add(fileTime))
	line.SetWriteDeadline(time.Now().Add(fileTime + answerTime))
	kept, err := b.options.Fresh.Take(r.URL.Query().Get("name"), r.Body)
	var unfit folder.Unfit
	switch {
	case errors.As(err, &unfit):
		what, hint, _ := strings.Cut(unfit.What, "; ")
		send(w, unfitStatus(unfit.Why), struct {
			Error string           `json:"error"`
			Hint  string           `json:"hint"`
			Why   folder.UnfitKind `json:"why"`
		}{what, hint, unfit.Why})
	case errors.Is(err, folder.ErrMachine):
		sendError(w, http.StatusInsufficientStorage, err.Error(), "")
	case err != nil:
		fail(w, err)
	default:
		send(w, http.StatusOK, struct {
			Kept string `json:"kept"`
		}{kept})
	}
}

func unfitStatus(why folder.UnfitKind) int {
	switch why {
	case folder.UnfitLarge:
		return http.StatusRequestEntityTooLarge
	case folder.UnfitTaken:
		return http.StatusConflict
	case folder.UnfitSort, folder.UnfitPhoto:
		return http.StatusUnsupportedMediaType
	case folder.UnfitMany:
		return http.StatusInsufficientStorage
	}
	return http.StatusBadRequest
}

// try is the programme that a page would begin, ready to be proved.
func (b *Bench) try(to startForm, last *snapshot) (*snapshot, error) {
	start, err := b.start(to)
	if err != nil {
		return nil, err
	}
	src, err := edit.New(start)
	if err != nil {
		return nil, err
	}
	files, err := b.options.Fresh.Try(src.Bytes())
	if err != nil {
		return nil, err
	}
	return newSnapshot(files, last)
}

// postBegin writes the programme and puts it on the bench.
func (b *Bench) postBegin(r *http.Request) (any, error) {
	var to startForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	b.trials.Lock()
	defer b.trials.Unlock()
	b.mu.Lock()
	err := b.begin(to)
	b.mu.Unlock()
	if err == nil {
		b.tried = nil // it would stay in memory for nothing
	}
	return b.after(err)
}

func (b *Bench) begin(to startForm) error {
	if b.now.Load() != nil {
		return errBegun
	}
	s, err := b.try(to, nil)
	if err != nil {
		return err
	}
	if err := b.options.Fresh.Begin(s.files); errors.Is(err, folder.ErrBegun) {
		return conflict{err.Error(), ""}
	} else if err != nil {
		return err
	}
	b.open(s)
	return nil
}

// previewForm is the first card of a programme that would be begun.
type previewForm struct {
	Sides    []previewSide `json:"sides"`
	Panels   []panelForm   `json:"panels"` // of the ribbon, in the order of feeding
	Black    bool          `json:"black"`  // there is a black rule to choose
	Readers  []readerForm  `json:"readers"`
	Codes    []codeForm    `json:"codes"`
	Readings []readingForm `json:"readings"`
}

type previewSide struct {
	Side    string `json:"side"`
	W       int    `json:"w"`
	H       int    `json:"h"`
	Picture string `json:"picture"` // PNG as a data address
}

// postPreview shows the first card of a programme that would be begun. Nothing is
// written.
func (b *Bench) postPreview(r *http.Request) (any, error) {
	var to startForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	b.trials.Lock()
	defer b.trials.Unlock()
	s, err := b.try(to, b.tried)
	if err != nil {
		return nil, err
	}
	b.tried = s
	k, err := s.card(0)
	if err != nil {
		return nil, err
	}
	f := previewForm{Sides: []previewSide{}, Panels: []panelForm{}, Readers: []readerForm{}, Codes: []codeForm{}, Readings: readingsOf(k.Card.Readings)}
	for i := range k.Sides {
		side := &k.Sides[i]
		picture := small(side.Eye(side.Panels))
		var data bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&data, picture); err != nil {
			return nil, err
		}
		f.Sides = append(f.Sides, previewSide{side.Side.String(), picture.Rect.Dx(), picture.Rect.Dy(), "data:image/png;base64," + base64.StdEncoding.EncodeToString(data.Bytes())})
		f.Black = f.Black || s.choice(side.Side)
	}
	for _, q := range s.programme.Ribbon.Panels {
		f.Panels = append(f.Panels, panelForm{string(q.Letter), panelKinds[q.Kind], q.Name, planeOf(q.Kind), colourOf(q)})
	}
	for _, r := range s.programme.Readers {
		f.Readers = append(f.Readers, readerOf(r))
	}
	for _, c := range s.pf.Codes {
		f.Codes = append(f.Codes, codeForm{c.Name, c.Side.String(), c.Element})
	}
	return f, nil
}

// choice says whether a side has a black rule to choose.
func (s *snapshot) choice(side site.Side) bool {
	set := s.pf.Set(side)
	return site.Has(set, site.BlackResin) && slices.ContainsFunc(set, func(p site.Panel) bool { return p.Kind.Dye() })
}

// previewWidth is about how many dots of a preview are worth sending.
const previewWidth = 1100

// small halves a picture until it is no wider than a preview.
func small(m *image.RGBA) *image.RGBA {
	for m.Rect.Dx() > previewWidth {
		half := image.NewRGBA(image.Rect(0, 0, m.Rect.Dx()/2, m.Rect.Dy()/2))
		for y := range half.Rect.Dy() {
			for x := range half.Rect.Dx() {
				var sum [3]int
				for _, i := range [4]int{m.PixOffset(2*x, 2*y), m.PixOffset(2*x+1, 2*y), m.PixOffset(2*x, 2*y+1), m.PixOffset(2*x+1, 2*y+1)} {
					for c := range sum {
						sum[c] += int(m.Pix[i+c])
					}
				}
				half.SetRGBA(x, y, color.RGBA{uint8(sum[0] / 4), uint8(sum[1] / 4), uint8(sum[2] / 4), 255})
			}
		}
		m = half
	}
	return m
}
