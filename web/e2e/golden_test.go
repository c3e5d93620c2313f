package e2e

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// tolerance is the mean difference of a channel, of 255, that a picture may have
// from its golden one: a letter drawn a little otherwise by another build of the
// browser is far below it, a moved or missing part of the page far above.
const tolerance = 2.0

// The main views look as they did when somebody last looked at them. The letters
// are the page's own fonts.
func TestGoldenPictures(t *testing.T) {
	origin := serve(t, tooLittle())
	for _, c := range []struct{ name, hash, lamp string }{
		{"light-eye", "#light", "eye"},
		{"light-940", "#light", "940"},
		{"readers", "#readers", ""},
		{"findings", "#findings", ""},
	} {
		p := open(t, origin, c.hash)
		p.size(1024, 768)
		if c.lamp != "" {
			p.click(`.stop[data-lamp="` + c.lamp + `"]`)
			p.wait(`document.querySelector("canvas[data-face=back]").dataset.lamp === "` + c.lamp + `" && document.querySelectorAll("#patches li").length > 2`)
			p.wait(`document.querySelector("#light-says").textContent.includes("` + map[string]string{"eye": "every black is black", "940": "does not read"}[c.lamp] + `")`)
		}
		if c.name == "findings" {
			p.wait(`document.querySelector("#remedy-do")`)
		}
		golden(t, p, c.name)
	}
}

// golden holds what the window shows against a golden picture.
func golden(t *testing.T, p *tab, name string) {
	t.Helper()
	// Where the mouse is and what has the focus is no part of the picture.
	eval[any](p, `(document.activeElement.blur(), scrollTo(0, 0), new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null)))))`)
	got, file := rgba(p.shot()), filepath.Join("testdata", name+".png")
	if *update {
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, got); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	golden, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if d := difference(got, rgba(golden)); d > tolerance {
		t.Errorf("%s differs by %.2f of 255 from the golden picture, more than %v; look at the view, and run with -update if it is right", name, d, tolerance)
	} else {
		t.Logf("%s differs by %.2f of 255", name, d)
	}
}

func rgba(m image.Image) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, m.Bounds().Dx(), m.Bounds().Dy()))
	draw.Draw(out, out.Bounds(), m, m.Bounds().Min, draw.Src)
	return out
}

// difference is the mean difference of all channels of two pictures of one size.
func difference(a, b *image.RGBA) float64 {
	if a.Bounds() != b.Bounds() {
		return 255
	}
	sum := 0
	for i := range a.Pix {
		sum += max(int(a.Pix[i])-int(b.Pix[i]), int(b.Pix[i])-int(a.Pix[i]))
	}
	return float64(sum) / float64(len(a.Pix)*3/4)
}
