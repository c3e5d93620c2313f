package main

import (
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// meter shows how far a run has come, on a terminal only and on standard error,
// so that pipes stay clean. It serves several goroutines.
type meter struct{ bar *progressbar.ProgressBar }

func progress(con *console, doing string, n int, things string) meter {
	f, ok := con.Stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return meter{}
	}
	return meter{progressbar.NewOptions(n,
		progressbar.OptionSetWriter(f),
		progressbar.OptionSetDescription(doing),
		progressbar.OptionShowCount(),
		progressbar.OptionShowIts(),
		progressbar.OptionSetItsString(things),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionUseANSICodes(true), // also clears what the terminal shows of Ctrl-C
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
