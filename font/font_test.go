package font

import (
	"bytes"
	"strings"
	"testing"

	gofont "github.com/go-text/typesetting/font"
)

// Letters that names on cards are written with, a few of each script and those
// that incomplete fonts lack.
const letters = "AzÅéßğłŞșŒ ẴỆờữđĐ ΑΩάϊΰς БЯжёїҐўЉ ابتثپچژگی٠٩ אבםןץ אָּ कखक़ज्ञ़ािॐ०९"

func TestBundled(t *testing.T) {
	for _, bold := range []bool{false, true} {
		var faces []*gofont.Face
		for _, f := range Bundled(bold) {
			face, err := gofont.ParseTTF(bytes.NewReader(f.Data))
			if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
			if d := face.Describe(); strings.HasSuffix(f.Name, " Bold") != (d.Aspect.Weight == gofont.WeightBold) ||
				!strings.HasPrefix(f.Name, d.Family) {
				t.Errorf("%s calls itself %q, weight %v", f.Name, d.Family, d.Aspect.Weight)
			}
			faces = append(faces, face)
		}
		for _, r := range letters {
			found := false
			for _, f := range faces {
				_, has := f.NominalGlyph(r)
				found = found || has
			}
			if !found {
				t.Errorf("bold %v: no font has %q", bold, r)
			}
		}
	}
}
