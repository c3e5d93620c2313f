package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"unspool/unit"
)

// A spectrum is drawn 1 unit a nanometre from 380 to 1000 nm: a thin line of
// all its light, and above it what one lamp gives. Past 780 nm, where no eye
// sees, it is grey.
const (
	spectrumHigh = 30.0 // units
	spectrumLine = 26.0 // top of the thin line
)

// hues are colours along the spectrum for a picture of it; they are no
// measurement.
var hues = [...]struct {
	nm     unit.Nanometres
	colour string
}{
	{380, "#3b1466"}, {415, "#4a23a8"}, {445, "#2a3fd0"}, {475, "#1177d1"}, {495, "#0f9bb0"}, {520, "#159a48"},
	{550, "#62ad1f"}, {575, "#d3b90f"}, {595, "#ee9410"}, {620, "#e2551a"}, {650, "#cf2a1d"}, {700, "#9c1616"}, {745, "#641717"},
}

// spectrumDefs are the colours that every spectrum of the page refers to.
func spectrumDefs() template.HTML {
	var b strings.Builder
	b.WriteString(`<svg class="defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>` +
		`<linearGradient id="spectrum" gradientUnits="userSpaceOnUse" x1="0" x2="620" y1="0" y2="0">`)
	for _, h := range hues {
		fmt.Fprintf(&b, `<stop offset="%.4f" stop-color="%s"/>`, across(h.nm)/620, h.colour)
	}
	fmt.Fprintf(&b, `<stop offset="%.4f" class="unseen"/><stop offset="1" class="unseen"/>`, across(785)/620)
	b.WriteString(`</linearGradient></defs></svg>`)
	return template.HTML(b.String())
}

func across(nm unit.Nanometres) float64 { return float64(nm - unit.FirstNM) }

// daylight is the spectrum with all visible light lit, for the eye's own view.
func daylight() template.HTML {
	return spectrum("daylight, 400 to 700 nm", allVisible)
}

func allVisible(nm float64) float64 { return smooth((nm-390)/30) * smooth((720-nm)/50) }

// lamp is the spectrum with one lamp lit: a bell of the given full width at half
// maximum, at least wide enough to be seen.
func lamp(peak, width unit.Nanometres) template.HTML {
	return spectrum(light(peak)+" light, "+peak.String(), bell(peak, width))
}

func bell(peak, width unit.Nanometres) func(nm float64) float64 {
	const least = 24
	s := math.Max(float64(width), least) / (2 * math.Sqrt(2*math.Ln2))
	return func(nm float64) float64 { return math.Exp(-(nm - float64(peak)) * (nm - float64(peak)) / (2 * s * s)) }
}

func spectrum(label string, amount func(nm float64) float64) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="spectrum" viewBox="0 0 620 %g" preserveAspectRatio="none" role="img" aria-label="%s">`+
		`<path d="M0 %g`, spectrumHigh, template.HTMLEscapeString(label), spectrumLine)
	const step = 5
	for nm := float64(unit.FirstNM); nm <= float64(unit.LastNM); nm += step {
		fmt.Fprintf(&b, "L%g %.1f", nm-float64(unit.FirstNM), spectrumLine*(1-amount(nm)))
	}
	fmt.Fprintf(&b, `L620 %g V%gH0z" fill="url(#spectrum)"/></svg>`, spectrumLine, spectrumHigh)
	return template.HTML(b.String())
}

// smooth rises from 0 to 1 as t does.
func smooth(t float64) float64 {
	t = min(max(t, 0), 1)
	return t * t * (3 - 2*t)
}
