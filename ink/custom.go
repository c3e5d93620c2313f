package ink

import (
	"fmt"
	"math"
	"sort"

	"unspool/unit"
)

// DyeTable is a measured ribbon: reflection densities of each dye at full
// amount above the bare card, by wavelength. Columns have one value for each
// wavelength; K and Card may be left out.
//
// A table need not span 380 to 1000 nm. It must reach down to 400 nm or less
// and up to 700 nm or more, which is what common spectrophotometers give.
// Below its first row that row holds. Above its last row the dyes fade to 1/e
// every 45 nm, as the presets' do, carbon falls by the presets' power law, and
// the card holds; all from memory. Model.Known says where this begins.
type DyeTable struct {
	NM      []unit.Nanometres // rising
	Y, M, C []float64         // density, 0 to 6
	K       []float64         // density of the carbon resin, 0 to 6; none: the presets' carbon
	Card    []float64         // reflectance of the bare card, 0.01 to 1.2 absolute; none: the presets' card
}

// Limits of a DyeTable, own judgement: densities beyond 6 do not come out of an
// instrument; a dye that stays below minPeak is a table in the wrong unit or the
// wrong column.
const (
	maxDensity             = 6
	minPeak                = 0.3
	minCard, maxCard       = 0.01, 1.2
	latestFirst, firstLast = unit.Nanometres(400), unit.Nanometres(700)
	lastVisible            = unit.Nanometres(780)
	fadeLength             = 45
)

// column is one column of a DyeTable and what it may hold.
type column struct {
	name     string
	values   []float64
	min, max float64
}

// Custom makes a model of a measured ribbon, straight between the rows. An
// error names the row, counted from 1, the column and what it wants instead.
func Custom(t DyeTable) (*Model, error) {
	if err := t.checkWavelengths(); err != nil {
		return nil, err
	}
	dyes := []column{{"Y", t.Y, 0, maxDensity}, {"M", t.M, 0, maxDensity}, {"C", t.C, 0, maxDensity}}
	for _, c := range dyes {
		if err := t.checkColumn(c); err != nil {
			return nil, err
		}
		if err := t.checkPeak(c); err != nil {
			return nil, err
		}
	}
	m := Model{
		card: whitePVC, k: carbonDensity,
		y: t.interpolate(t.Y, fading), m: t.interpolate(t.M, fading), c: t.interpolate(t.C, fading),
		from: max(t.NM[0], unit.FirstNM), to: min(t.NM[len(t.NM)-1], unit.LastNM),
	}
	if t.K != nil {
		if err := t.checkColumn(column{"K", t.K, 0, maxDensity}); err != nil {
			return nil, err
		}
		m.k = t.interpolate(t.K, likeCarbon)
	}
	if t.Card != nil {
		if err := t.checkColumn(column{"card", t.Card, minCard, maxCard}); err != nil {
			return nil, err
		}
		m.card = t.interpolate(t.Card, holding)
	}
	return newModel(m), nil
}

func (t DyeTable) checkWavelengths() error {
	if len(t.NM) < 2 {
		return fmt.Errorf("dye table: %d rows: give at least one row at or below %v and one at or above %v", len(t.NM), latestFirst, firstLast)
	}
	for i, nm := range t.NM {
		if !(nm >= 200 && nm <= 3000) {
			return fmt.Errorf("dye table: row %d: %v is not a wavelength from 200 to 3000 nm", i+1, nm)
		}
		if i > 0 && nm <= t.NM[i-1] {
			return fmt.Errorf("dye table: row %d: %v follows %v: put the rows in rising order, each wavelength once", i+1, nm, t.NM[i-1])
		}
	}
	if t.NM[0] > latestFirst {
		return fmt.Errorf("dye table: row 1: begins at %v: it must reach down to %v or less", t.NM[0], latestFirst)
	}
	if last := t.NM[len(t.NM)-1]; last < firstLast {
		return fmt.Errorf("dye table: row %d: ends at %v: it must reach up to %v or more", len(t.NM), last, firstLast)
	}
	return nil
}

func (t DyeTable) checkColumn(c column) error {
	if len(c.values) != len(t.NM) {
		return fmt.Errorf("dye table: column %s has %d values for %d wavelengths: give one for each row", c.name, len(c.values), len(t.NM))
	}
	for i, v := range c.values {
		if !(v >= c.min && v <= c.max) {
			return fmt.Errorf("dye table: row %d (%v): %s is %g: must be %g to %g", i+1, t.NM[i], c.name, v, c.min, c.max)
		}
	}
	return nil
}

func (t DyeTable) checkPeak(c column) error {
	peak := 0.0
	for i, v := range c.values {
		if t.NM[i] >= unit.FirstNM && t.NM[i] <= lastVisible {
			peak = max(peak, v)
		}
	}
	if peak < minPeak {
		return fmt.Errorf("dye table: column %s never reaches %g between 380 and 780 nm (highest %g): give densities at the full amount of dye, not percentages or shares", c.name, minPeak, peak)
	}
	return nil
}

// The three ways to go on beyond the last row, as a factor on its value.
func fading(nm, last unit.Nanometres) float64     { return math.Exp(-float64(nm-last) / fadeLength) }
func likeCarbon(nm, last unit.Nanometres) float64 { return carbonDensity(nm) / carbonDensity(last) }
func holding(_, _ unit.Nanometres) float64        { return 1 }

// interpolate copies the column, so that the model stays what it is whatever
// becomes of the table.
func (t DyeTable) interpolate(values []float64, beyond func(nm, last unit.Nanometres) float64) spectrum {
	at := append([]unit.Nanometres(nil), t.NM...)
	values = append([]float64(nil), values...)
	end := len(at) - 1
	return func(nm unit.Nanometres) float64 {
		if nm >= at[end] {
			return values[end] * beyond(nm, at[end])
		}
		i := sort.Search(len(at), func(i int) bool { return at[i] > nm })
		if i == 0 {
			return values[0]
		}
		way := float64((nm - at[i-1]) / (at[i] - at[i-1]))
		return values[i-1] + way*(values[i]-values[i-1])
	}
}
