package grade

import (
	"math"

	"unspool/symbol"
)

// Edition names the edition of ISO/IEC 15416 whose scale is used.
type Edition int

// Editions. Their thresholds are the same (from memory). The edition of 2025
// is not known here in its technical content.
const (
	// Ed2000 gives every parameter a whole grade, 4 to 0.
	Ed2000 Edition = iota
	// Ed2016 gives symbol contrast, modulation, defects and decodability one
	// decimal, on a straight line between the thresholds (from memory). Whether
	// that line goes on below the threshold of grade 1 is not confirmed; here it
	// ends, and what lies below is 0.
	Ed2016
)

// String names the edition: "ISO/IEC 15416:2016".
func (e Edition) String() string {
	if e == Ed2016 {
		return "ISO/IEC 15416:2016"
	}
	return "ISO/IEC 15416:2000"
}

// Parameter is one of the things a scan is graded by.
type Parameter uint8

// Parameters of a scan, in the order of ISO/IEC 15416 5.4.
const (
	Decode         Parameter = iota // elements found and decoded: 4 or 0
	MinReflectance                  // Rmin at most half of Rmax: 4 or 0
	MinEdge                         // ECmin: 4 or 0
	Contrast                        // SC
	Modulation                      // MOD
	Defects
	Decodability
	QuietZone // as the symbology asks: 4 or 0
	Parameters
)

// Parameters of a two-dimensional symbol, besides Decode, Contrast, Modulation,
// Defects and Decodability (ISO/IEC 15415:2011, from memory).
const (
	Margin           = Parameters + 1 + iota // reflectance margin
	FixedPattern                             // fixed pattern damage
	AxialUniformity                          // axial nonuniformity
	GridUniformity                           // grid nonuniformity
	UnusedCorrection                         // unused error correction
	StartStop                                // start and stop patterns, by ISO/IEC 15416
	CodewordYield
)

// String names the parameter for people: "symbol contrast".
func (p Parameter) String() string {
	return [...]string{"decode", "minimum reflectance", "minimum edge contrast", "symbol contrast",
		"modulation", "defects", "decodability", "quiet zone", "parameters",
		"reflectance margin", "fixed pattern damage", "axial nonuniformity", "grid nonuniformity",
		"unused error correction", "start and stop patterns", "codeword yield", "parameters"}[min(p, CodewordYield+1)]
}

// Thresholds of grades 4, 3, 2 and 1 of ISO/IEC 15416: read in the open work
// github.com/EnricoPittini/Barcodes-verification, which grades by them. Only
// decodability is from memory; that project's test chart labels .955 .558 .433
// .295 .143 as A to F, which fits.
var (
	contrastLimits     = [4]float64{0.70, 0.55, 0.40, 0.20}
	modulationLimits   = [4]float64{0.70, 0.60, 0.50, 0.40}
	defectsLimits      = [4]float64{0.15, 0.20, 0.25, 0.30} // at most
	decodabilityLimits = [4]float64{0.62, 0.50, 0.37, 0.25}
)

const (
	// leastEdge is the least ECmin, of absolute reflectance (read, as above).
	leastEdge = 0.15
	// darkShare is how much of Rmax Rmin may be (read in ISO/IEC 15416:2000 B.1).
	darkShare = 0.5
	// sampleError is what the single precision of a profile may take from a
	// reflectance: a value that stands on a threshold must not fall below it.
	sampleError = 1e-6
	// quietError is the uncertainty of an edge between two samples, in X. A quiet
	// zone of exactly its least width must not fail by it.
	quietError = 0.02
)

// scale turns a measure into a grade. Limits rise from the fourth to the first,
// or fall where a small measure is a good one.
func scale(v float64, limits [4]float64, ed Edition) float64 {
	if limits[0] < limits[3] {
		v = -v
		for i := range limits {
			limits[i] = -limits[i]
		}
	}
	v += sampleError
	for i, l := range limits {
		if v < l {
			continue
		}
		g := float64(4 - i)
		if ed == Ed2016 && i > 0 {
			// Cut, not rounded: a decimal must not lift a measure over the
			// threshold it has missed.
			g += math.Floor(10*(v-l)/(limits[i-1]-l)) / 10
		}
		return g
	}
	return 0
}

// pass is the grade of what is only passed or failed.
func pass(ok bool) float64 {
	if ok {
		return 4
	}
	return 0
}

// gradeAll fills in the grades of a scan whose measures are set and whose quiet
// zones should have so many X in the order of the profile, and its own grade:
// the lowest of them (ISO/IEC 15416:2000 5.5, read in Barcodes-verification).
func (s *Scan) gradeAll(ed Edition, first, last int) {
	s.Grades = [Parameters]float64{
		Decode:         pass(s.Decoded && s.Reading.Check != symbol.CheckBad),
		MinReflectance: pass(s.Rmin <= darkShare*s.Rmax+sampleError),
		MinEdge:        pass(s.ECmin >= leastEdge-sampleError),
		Contrast:       scale(s.SC, contrastLimits, ed),
		Modulation:     scale(s.MOD, modulationLimits, ed),
		Defects:        scale(s.Defects, defectsLimits, ed),
		Decodability:   scale(s.Reading.Decodability, decodabilityLimits, ed),
		QuietZone:      pass(s.Decoded && s.QuietLeft >= float64(first)-quietError && s.QuietRight >= float64(last)-quietError),
	}
	s.Deciding = Decode
	for p := range Parameters {
		if s.Grades[p] < s.Grades[s.Deciding] {
			s.Deciding = p
		}
	}
	s.Grade = s.Grades[s.Deciding]
}
