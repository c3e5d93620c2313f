package face

import (
	"bytes"
	"path"
	"strings"

	"unspool/design"
	"unspool/face/picture"
)

// source is what a part is drawn from on one card. Parts that are the same on
// every card have none.
type source struct {
	text  string // with the person's fields in it; of a photo the name of the file
	photo []byte
	err   error // why there is no photo, or no zone
}

// is says that two sources of one part draw the same.
func (s source) is(o source) bool {
	return s.err == nil && o.err == nil && s.text == o.text && bytes.Equal(s.photo, o.photo)
}

// source is what a part is drawn from for a person.
func (w *Work) source(pt *part, person design.Person) (s source) {
	switch {
	case pt.Text != nil:
		s.text = pt.Text.Text.Expand(person)
	case pt.Code != nil:
		s.text = pt.Code.Text.Expand(person)
	case pt.MRZ != nil:
		s.text, s.err = zoneText(pt.MRZ, person)
	case pt.Photo != nil && w.portrait == nil:
		s.text = strings.TrimSpace(pt.Photo.File.Expand(person))
		if s.text != "" && !leadsOut(s.text) {
			s.photo, s.err = w.pl.assets.Photo(path.Join(pt.Photo.Folder, s.text))
		}
	}
	return s
}

// leadsOut says whether a photo's name leaves the photo folder.
func leadsOut(name string) bool {
	p := path.Clean(strings.ReplaceAll(name, `\`, "/"))
	return path.IsAbs(p) || p == ".." || strings.HasPrefix(p, "../")
}

// decoded is the last photo that was decoded, kept since a card that is laid out
// is drawn over and over.
type decoded struct {
	data  []byte
	image *picture.Image
}

// decode decodes a photo.
func (w *Work) decode(data []byte) (*picture.Image, error) {
	if w.photo.image != nil && bytes.Equal(w.photo.data, data) {
		return w.photo.image, nil
	}
	w.photo = decoded{} // two of them in memory would be too much
	m, err := picture.Decode(data)
	if err == nil {
		w.photo = decoded{data, m}
	}
	return m, err
}
