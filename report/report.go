// Package report writes what a proof says, for people and for programs: one
// HTML page, sheets of spent ribbon at its own size, JSON, CSV and pictures. It
// takes values and returns bytes; the same values give the same bytes.
//
// A page names cards by their row, counted from 1 without the heading line, and
// never by key or name: it is made to be shared. JSON and CSV carry the keys and
// are to be kept like the roster.
package report

import (
	"unspool/proof"
)

// Input is everything one report shows.
type Input struct {
	Summary *proof.Summary
	Samples []Sample
	// Invented: the sample cards show an invented person and a broken code. The
	// report says so either way.
	Invented bool
	Command  string // how the report was made: "unspool proof sundhaven"
	// Beside names the files that lie beside the page. It tells of no others.
	Beside []string
}

// Sample is one card shown in pictures.
type Sample struct {
	Row   int    // place in the run, from 0; -1 an invented person
	Title string // why it is shown
	Views []proof.View
}

// HTML writes the report as one page that needs nothing else: no network, no
// script.
func HTML(in Input) ([]byte, error) { return render("page.html", newPage(in)) }
