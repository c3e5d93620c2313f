package main

import (
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// meter shows how far a run has come, on a terminal only and on standard error,
// so that pipes stay clean.
type meter struct{ bar *progressbar.ProgressBar }

func progress(con *console, cards int) meter {
	f, ok := con.Stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return meter{}
	}
	return meter{progressbar.NewOptions(cards,
		progressbar.OptionSetWriter(f),
		progressbar.OptionSetDescription("proving"),
		progressbar.OptionShowCount(),
		progressbar.OptionShowIts(),
		progressbar.OptionSetItsString("cards"),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetTheme(progressbar.Theme{Saucer: "█", SaucerPadding: "·", BarStart: "", BarEnd: ""}),
	)}
}

func (m meter) step() {
	if m.bar != nil {
		m.bar.Add(1)
	}
}

func (m meter) done() {
	if m.bar != nil {
		m.bar.Finish()
	}
}
