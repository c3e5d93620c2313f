package proof

import (
	"fmt"
	"testing"

	"unspool/design"
	"unspool/grade"
)

const matrixCard = `unspool: 1
name: Gangway cards
printer: {dpi: 300}
ribbon: {panels: YMCKO, resin: carbon}
black: %s
faces:
  front:
    - {name: code, code: %s, text: "{number} Sundhaven", box: [%s], backing: true%s}
readers:
  - {name: camera, kind: camera, light: 660, accepts: [%s]}
  - {name: gate, kind: camera, light: 940, accepts: [%s]}
  - {name: slot, kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 12}
roster: {file: crew.csv, key: number}
`

func matrixReadings(t *testing.T, kind, black, box, more string) map[string]Reading {
	t.Helper()
	p, err := design.Parse("programme.yaml", fmt.Appendf(nil, matrixCard, black, kind, box, more, kind, kind))
	if err != nil {
		t.Fatal(err)
	}
	return verdicts(t, p)
}

// Composite black vanishes in infrared from two-dimensional codes as from bars,
// resin stays; a slot reads none of them (common practice, no source).
func TestTwoDimensionalCodesByLight(t *testing.T) {
	for _, kind := range []string{"qr", "datamatrix", "aztec", "pdf417"} {
		resin := matrixReadings(t, kind, "objects", "20, 12, 45, 30", "")
		for _, reader := range []string{"camera", "gate"} {
			r := resin[reader]
			if r.Verdict != Reads || r.Quality == nil || !r.Quality.Decoded || r.Text != "004217 Sundhaven" || r.Grade.Value < 3 {
				t.Errorf("%s in resin at the %s: %v, grade %s, %q (%s)", kind, reader, r.Verdict, r.Grade.Text, r.Cause.ID, r.Cause.Reason)
			}
		}
		if r := resin["slot"]; r.Verdict != Fails || r.Cause.ID != "wrong-kind" {
			t.Errorf("%s at the slot: %v, %q", kind, r.Verdict, r.Cause.ID)
		}
		dye := matrixReadings(t, kind, "none", "20, 12, 45, 30", "")
		if r := dye["camera"]; r.Verdict != Reads || r.Grade.Value < 1.5 {
			t.Errorf("%s in dye at the camera: %v, grade %s, %q (%s)", kind, r.Verdict, r.Grade.Text, r.Cause.ID, r.Cause.Reason)
		}
		if r := dye["gate"]; r.Verdict != Fails || r.Cause.ID != "no-carbon" || r.Grade.Value != 0 {
			t.Errorf("%s in dye at the gate: %v, grade %s, %q", kind, r.Verdict, r.Grade.Text, r.Cause.ID)
		}
	}
}

// A verdict says what is wrong with a two-dimensional code.
func TestTwoDimensionalCodesThatFail(t *testing.T) {
	for _, c := range []struct{ what, kind, box, more, cause string }{
		{"a single dot a module", "qr", "20, 12, 45, 30", ", x: 1", "x-below-reader"},
		{"over the edge", "datamatrix", "1, 20, 8, 8", ", x: 12", "code-cut"},
	} {
		r := matrixReadings(t, c.kind, "objects", c.box, c.more)["camera"]
		if r.Verdict != Fails || r.Cause.ID != c.cause {
			t.Errorf("%s: %v, %q (%s)", c.what, r.Verdict, r.Cause.ID, r.Cause.Reason)
		}
	}
}

// Of a clean code in resin nothing is mended, and its modules lie where the dots
// of the head do.
func TestTwoDimensionalFigures(t *testing.T) {
	r := matrixReadings(t, "datamatrix", "objects", "20, 12, 45, 30", "")["gate"]
	for _, want := range []grade.Parameter{grade.UnusedCorrection, grade.AxialUniformity, grade.GridUniformity} {
		if f, ok := r.Quality.Figure(want); !ok || f.Grade != 4 {
			t.Errorf("%v: %+v", want, f)
		}
	}
}

// Worked out again for the same card, everything is the same.
func TestTwoDimensionalSame(t *testing.T) {
	read := func() map[string]Reading { return matrixReadings(t, "qr", "objects", "20, 12, 45, 30", "") }
	a, b := read(), read()
	for name := range a {
		if a[name].Grade != b[name].Grade || a[name].Verdict != b[name].Verdict {
			t.Errorf("%s: %v, then %v", name, a[name], b[name])
		}
	}
}

func BenchmarkJudgeQR(b *testing.B) {
	p, err := design.Parse("programme.yaml", fmt.Appendf(nil, matrixCard, "objects", "qr", "20, 12, 45, 30", "", "qr", "qr"))
	if err != nil {
		b.Fatal(err)
	}
	pf, err := New(p, assets(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	w := pf.Worker()
	for i := 0; b.Loop(); i++ {
		if _, err := w.Card(i, Row{Person: p.Person(somebody())}); err != nil {
			b.Fatal(err)
		}
	}
}
