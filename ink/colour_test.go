package ink

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"unspool/unit"
)

// Source: G. Sharma, W. Wu, E. N. Dalal (2005), table 1, all 34 pairs; both
// orders of each pair, for the difference is symmetric.
func TestDeltaE2000(t *testing.T) {
	f, err := os.Open("testdata/ciede2000.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	pairs := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var p, q Lab
		var want float64
		n, _ := fmt.Sscanf(strings.ReplaceAll(lines.Text(), ",", " "), "%g %g %g %g %g %g %g", &p.L, &p.A, &p.B, &q.L, &q.A, &q.B, &want)
		if n != 7 {
			continue
		}
		pairs++
		for _, got := range []float64{DeltaE2000(p, q), DeltaE2000(q, p)} {
			if math.Abs(got-want) > 1e-4 {
				t.Errorf("%v to %v: %.5f, want %.4f", p, q, got, want)
			}
		}
	}
	if pairs != 34 {
		t.Errorf("%d pairs read, want 34", pairs)
	}
}

// Source: D50 Lab values of sRGB colours in notes of github.com/gwanryo/retouch,
// worked out there from the primaries and the Bradford cones and not from the
// rounded matrices; tolerance .05.
func TestLabD50(t *testing.T) {
	for _, c := range []struct {
		rgb  [3]uint8
		want Lab
	}{
		{[3]uint8{255, 0, 0}, Lab{54.289, 80.811, 69.888}},
		{[3]uint8{0, 255, 0}, Lab{87.819, -79.280, 80.996}},
		{[3]uint8{0, 0, 255}, Lab{29.569, 68.297, -112.028}},
		{[3]uint8{128, 128, 128}, Lab{53.585, 0, 0}},
		{[3]uint8{200, 150, 100}, Lab{66.126, 14.996, 33.950}},
		{[3]uint8{255, 255, 255}, Lab{100, 0, 0}},
		{[3]uint8{0, 0, 0}, Lab{0, 0, 0}},
	} {
		got := LabD50(c.rgb)
		for _, d := range []float64{got.L - c.want.L, got.A - c.want.A, got.B - c.want.B} {
			if math.Abs(d) > 0.05 {
				t.Errorf("%v: %.3f, want %.3f", c.rgb, got, c.want)
				break
			}
		}
	}
}

// From the definition of IEC 61966-2-1, a curve of two parts: they meet, and every
// code value survives the way there and back.
func TestTransferCurve(t *testing.T) {
	if d := math.Abs(Encode(0.0031308) - Encode(math.Nextafter(0.0031308, 1))); d > 1e-7 {
		t.Errorf("the curve jumps by %g at its knee", d)
	}
	for v := range 256 {
		if got := byteOf(Encode(decoded[v])); int(got) != v {
			t.Errorf("%d comes back as %d", v, got)
		}
	}
	for i, row := range rgbToXYZ.times(xyzToRGB.times(xyz{0.3, 0.5, 0.2})) {
		if want := (xyz{0.3, 0.5, 0.2})[i]; math.Abs(row-want) > 1e-12 {
			t.Errorf("the matrix and its inverse give %g, want %g", row, want)
		}
	}
}

// Source: CIE 1931 2 degree observer, D50 and D65 every 10 nm (CIE tables by
// way of colord-data; D50 from the daylight components).
func TestObserverRows(t *testing.T) {
	rows, err := os.ReadFile("testdata/cie-10nm.txt")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for line := range strings.Lines(string(rows)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var r cieRow
		if _, err := fmt.Sscan(line, &r.nm, &r.x, &r.y, &r.z, &r.d50, &r.d65); err != nil {
			t.Fatal(err)
		}
		n++
		got := cie[int(r.nm-380)/5]
		for _, c := range []struct{ got, want, tol float64 }{
			{float64(got.nm), float64(r.nm), 0},
			{got.x, r.x, 1e-6}, {got.y, r.y, 1e-6}, {got.z, r.z, 1e-6},
			{got.d50, r.d50, 0.006}, {got.d65, r.d65, 0.006},
		} {
			if math.Abs(c.got-c.want) > c.tol {
				t.Errorf("%v: %g, want %g", r.nm, c.got, c.want)
			}
		}
	}
	if n != 41 {
		t.Errorf("%d rows read, want 41", n)
	}
}

// Source: CIE 15 states 96.42 100 82.51 for D50 and 95.04 100 108.88 for D65 (from
// memory). The third decimal is regression: the sums at 5 nm, 380 to 780 nm.
func TestWhitePoints(t *testing.T) {
	diffuser := make([]float64, len(cie))
	for i := range diffuser {
		diffuser[i] = 1
	}
	for _, c := range []struct {
		name string
		sum  *observer
		want xyz
	}{
		{"D50", &underD50, xyz{96.420, 100, 82.512}},
		{"D65", &underD65, xyz{95.043, 100, 108.880}},
	} {
		got := c.sum.see(diffuser)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 6e-4 {
				t.Errorf("%s: %.3f, want %.3f", c.name, got, c.want)
			}
		}
	}
}

// Source: the CIE tables of Debian's colord-data, every row.
func TestAgainstColordData(t *testing.T) {
	const dir = "/usr/share/colord"
	cmf, err := colord(filepath.Join(dir, "cmf/CIE1931-2deg-XYZ.cmf"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("%v (Debian package colord-data)", err)
	}
	d65, err65 := colord(filepath.Join(dir, "illuminant/CIE-D65.sp"))
	day, errDay := colord(filepath.Join(dir, "ref/CIE-1986-daylight-SPD.cmf"))
	a, errA := colord(filepath.Join(dir, "illuminant/CIE-A.sp"))
	if err := errors.Join(err, err65, errDay, errA); err != nil {
		t.Fatal(err)
	}
	m1, m2 := daylight(5002.8)
	for _, r := range cie {
		d50 := day[0](r.nm) + m1*day[1](r.nm) + m2*day[2](r.nm)
		for _, c := range []struct {
			what           string
			got, want, tol float64
		}{
			{"x", r.x, cmf[0](r.nm), 6e-7}, {"y", r.y, cmf[1](r.nm), 6e-7}, {"z", r.z, cmf[2](r.nm), 6e-7},
			{"D65", r.d65, 100 * d65[0](r.nm), 1e-4}, {"D50", r.d50, d50, 6e-4},
			{"A", illuminantA(r.nm), 100 * a[0](r.nm), 1e-5 * 100 * a[0](r.nm)},
		} {
			if math.Abs(c.got-c.want) > c.tol {
				t.Errorf("%v %s: %g, want %g", r.nm, c.what, c.got, c.want)
			}
		}
	}
}

// daylight gives M1 and M2 of CIE 15 (from memory) for a daylight illuminant,
// rounded to three decimals as CIE 15 prescribes.
func daylight(kelvin float64) (m1, m2 float64) {
	x := -4.6070e9/math.Pow(kelvin, 3) + 2.9678e6/(kelvin*kelvin) + 99.11/kelvin + 0.244063
	y := -3*x*x + 2.87*x - 0.275
	m := 0.0241 + 0.2562*x - 0.7341*y
	m1 = (-1.3515 - 1.7703*x + 5.9114*y) / m
	m2 = (0.03 - 31.4424*x + 30.0717*y) / m
	return math.Round(1000*m1) / 1000, math.Round(1000*m2) / 1000
}

// colord reads the spectra of one CGATS file as colord-data writes them: a
// start, an end, and one line of evenly spaced samples for each spectrum.
func colord(name string) ([]func(unit.Nanometres) float64, error) {
	raw, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	header, data, _ := strings.Cut(string(raw), "BEGIN_DATA\n")
	limit := map[string]float64{}
	for line := range strings.Lines(header) {
		if f := strings.Fields(line); len(f) == 2 {
			limit[f[0]], _ = strconv.ParseFloat(f[1], 64)
		}
	}
	data, _, _ = strings.Cut(data, "END_DATA")
	var spectra []func(unit.Nanometres) float64
	for line := range strings.Lines(data) {
		var values []float64
		for _, f := range strings.Fields(line) {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return nil, err
			}
			values = append(values, v)
		}
		start, end := limit["SPECTRAL_START_NM"], limit["SPECTRAL_END_NM"]
		spectra = append(spectra, func(nm unit.Nanometres) float64 {
			return values[int(math.Round((float64(nm)-start)/(end-start)*float64(len(values)-1)))]
		})
	}
	return spectra, nil
}
