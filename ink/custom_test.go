package ink

import (
	"math"
	"slices"
	"strings"
	"testing"

	"unspool/unit"
)

// sampled writes a model down as the dye table a spectrophotometer would give.
func sampled(m *Model, from, to, step unit.Nanometres) (t DyeTable) {
	for nm := from; nm <= to; nm += step {
		t.NM = append(t.NM, nm)
		t.Y, t.M, t.C = append(t.Y, m.y(nm)), append(t.M, m.m(nm)), append(t.C, m.c(nm))
		t.K, t.Card = append(t.K, m.k(nm)), append(t.Card, m.card(nm))
	}
	return t
}

// A preset sampled at 5 nm comes back as itself, to within what straight lines
// between the rows lose.
func TestCustomReproducesAPreset(t *testing.T) {
	usual := Usual()
	m, err := Custom(sampled(usual, 380, 1000, 5))
	if err != nil {
		t.Fatal(err)
	}
	for nm := unit.FirstNM; nm <= unit.LastNM; nm++ {
		for _, a := range []Amounts{bare, yellow, magenta, cyan, composite, resin, {100, 50, 200, false}} {
			got, want := m.Reflectance(nm, a), usual.Reflectance(nm, a)
			if math.Abs(got-want) > 0.008 {
				t.Fatalf("%+v at %v: %.4f, want %.4f", a, nm, got, want)
			}
		}
	}
	for _, a := range []Amounts{bare, red, blue, composite, resin} {
		if got, want := m.Eye(a), usual.Eye(a); got != want {
			t.Errorf("%+v: the eye sees %v, want %v", a, got, want)
		}
	}
}

// A table that ends in the visible goes on as documented: dyes fade, carbon
// stays dark, and the model says where it stops knowing.
func TestCustomExtends(t *testing.T) {
	table := sampled(Usual(), 400, 700, 10)
	m, err := Custom(table)
	if err != nil {
		t.Fatal(err)
	}
	if from, to := m.Known(); from != 400 || to != 700 {
		t.Errorf("known from %v to %v, want 400 to 700", from, to)
	}
	if m.Reflectance(380, cyan) != m.Reflectance(400, cyan) {
		t.Error("the first row does not hold below it")
	}
	if pcs(m, 940, composite) > 0.1 || pcs(m, 940, resin) < 0.9 {
		t.Errorf("at 940 nm composite black has contrast %.3f and resin %.3f", pcs(m, 940, composite), pcs(m, 940, resin))
	}
	table.K, table.Card = nil, nil
	plain, err := Custom(table)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := plain.Reflectance(900, resin), Usual().Reflectance(900, resin); got != want {
		t.Errorf("without K and card: %g at 900 nm, want the preset's %g", got, want)
	}
	before := m.Reflectance(650, cyan)
	table.C[25] = 0
	if m.Reflectance(650, cyan) != before {
		t.Error("changing the table afterwards changes the model")
	}
}

func TestCustomErrors(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*DyeTable)
		want  []string
	}{
		{"empty", func(t *DyeTable) { *t = DyeTable{} }, []string{"0 rows"}},
		{"one row", func(t *DyeTable) { t.NM = t.NM[:1] }, []string{"1 rows"}},
		{"falling", func(t *DyeTable) { t.NM[4] = t.NM[3] }, []string{"row 5", "410 nm follows 410 nm", "rising"}},
		{"micrometres", func(t *DyeTable) { t.NM[0] = 0.38 }, []string{"row 1", "0.38 nm", "200 to 3000"}},
		{"not a number", func(t *DyeTable) { t.NM[2] = unit.Nanometres(math.NaN()) }, []string{"row 3", "NaN"}},
		{"late", func(t *DyeTable) { *t = sampled(Usual(), 420, 1000, 10) }, []string{"row 1", "420 nm", "400 nm"}},
		{"early end", func(t *DyeTable) { *t = sampled(Usual(), 380, 690, 10) }, []string{"row 32", "690 nm", "700 nm"}},
		{"short column", func(t *DyeTable) { t.M = t.M[:5] }, []string{"column M", "5 values", "63"}},
		{"negative", func(t *DyeTable) { t.C[7] = -0.1 }, []string{"row 8", "450 nm", "C is -0.1", "0 to 6"}},
		{"per cent", func(t *DyeTable) { t.Y[6] = 87 }, []string{"row 7", "Y is 87"}},
		{"nan density", func(t *DyeTable) { t.Y[6] = math.NaN() }, []string{"row 7", "NaN"}},
		{"no dye", func(t *DyeTable) { t.Y = make([]float64, len(t.Y)) }, []string{"column Y", "never reaches 0.3", "full amount"}},
		{"short K", func(t *DyeTable) { t.K = t.K[:1] }, []string{"column K"}},
		{"card in per cent", func(t *DyeTable) { t.Card[3] = 88 }, []string{"row 4", "card is 88", "0.01 to 1.2"}},
	} {
		table := sampled(Usual(), 380, 1000, 10)
		c.spoil(&table)
		m, err := Custom(table)
		if err == nil || m != nil {
			t.Errorf("%s: taken", c.name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", c.name, err, w)
			}
		}
	}
}

// Whatever table is taken, the model keeps its promises: no panic, reflectances
// in bounds, more dye never lighter.
func FuzzCustom(f *testing.F) {
	f.Add(uint8(63), 380.0, 10.0, 1.8, 0.02, true)
	f.Add(uint8(2), 400.0, 300.0, 5.0, 0.3, false)
	f.Add(uint8(0), 0.0, 0.0, 0.0, 0.0, false)
	f.Add(uint8(31), 400.0, 10.0, math.NaN(), -1.0, true)
	f.Add(uint8(34), 380.0, 10.0, 0.7, -0.001, false)
	f.Fuzz(func(t *testing.T, rows uint8, first, step, density, slope float64, full bool) {
		var table DyeTable
		for i := range int(rows) {
			x := float64(i)
			table.NM = append(table.NM, unit.Nanometres(first+step*x))
			table.Y = append(table.Y, density-slope*x)
			table.M = append(table.M, density+slope*x)
			table.C = append(table.C, density/2)
			table.Card = append(table.Card, 0.9-slope)
		}
		if full {
			table.K = slices.Clone(table.M)
		}
		m, err := Custom(table)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "dye table: ") {
				t.Errorf("%v does not say where", err)
			}
			return
		}
		for nm := unit.FirstNM; nm <= unit.LastNM; nm += 31 {
			light, dark := m.Reflectance(nm, bare), m.Reflectance(nm, composite)
			if !(dark >= surface && dark <= light && light <= maxCard) {
				t.Errorf("%v: %g with all dyes, %g bare", nm, dark, light)
			}
		}
	})
}
