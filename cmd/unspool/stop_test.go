package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// longRun is a programme of many cards with results of an earlier run, and the
// command built as users have it.
type longRun struct {
	t           *testing.T
	binary, dir string
	old         string // the report of the earlier run
}

// longCards take seconds to prove.
const longCards = 2000

func newLongRun(t *testing.T) *longRun {
	t.Helper()
	dir := t.TempDir()
	r := &longRun{t: t, binary: filepath.Join(dir, "unspool"), dir: filepath.Join(dir, "gate")}
	if text, err := exec.Command("go", "build", "-o", r.binary, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	if err := writeGate(r.dir); err != nil {
		t.Fatal(err)
	}
	r.prove()
	r.old = r.report()
	return r
}

// roster gives the programme so many people.
func (r *longRun) roster(cards int) {
	r.t.Helper()
	var text strings.Builder
	fmt.Fprintln(&text, "number,name,photo")
	for i := range cards {
		fmt.Fprintf(&text, "%06d,Ada Reef,a.jpg\n", i)
	}
	if err := os.WriteFile(filepath.Join(r.dir, "crew.csv"), []byte(text.String()), 0o644); err != nil {
		r.t.Fatal(err)
	}
}

func (r *longRun) command() *exec.Cmd {
	return exec.Command(r.binary, "proof", r.dir, "--no-advice", "--margins", "0", "--pictures", "none")
}

// prove proves the programme to the end.
func (r *longRun) prove() {
	r.t.Helper()
	if text, err := r.command().CombinedOutput(); err != nil {
		r.t.Fatalf("%v: %s", err, text)
	}
}

// report is the report that stands.
func (r *longRun) report() string {
	r.t.Helper()
	data, err := os.ReadFile(filepath.Join(r.dir, "proof", "report.html"))
	if err != nil {
		r.t.Fatal(err)
	}
	return string(data)
}

// parts are the folders that runs write to before they are done.
func (r *longRun) parts() []string {
	r.t.Helper()
	parts, err := filepath.Glob(filepath.Join(r.dir, ".proof.part-*"))
	if err != nil {
		r.t.Fatal(err)
	}
	return parts
}

// signal begins a run, sends it a signal when the first cards are on the disk, and
// gives its exit status, -1 where the signal has killed it, and what it said.
func (r *longRun) signal(s syscall.Signal) (status int, said string) {
	r.t.Helper()
	cmd := r.command()
	var text bytes.Buffer
	cmd.Stdout, cmd.Stderr = &text, &text
	if err := cmd.Start(); err != nil {
		r.t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for !r.midway() {
		select {
		case err := <-ended:
			r.t.Fatalf("the run ended before it could be stopped: %v: %s", err, &text)
		case <-time.After(5 * time.Millisecond):
		}
	}
	if err := cmd.Process.Signal(s); err != nil {
		r.t.Fatal(err)
	}
	var exit *exec.ExitError
	if err := <-ended; !errors.As(err, &exit) {
		r.t.Fatalf("the run took no notice of the signal: %v: %s", err, &text)
	}
	return exit.ExitCode(), text.String()
}

// midway says whether a run has written cards and is not done.
func (r *longRun) midway() bool {
	for _, part := range r.parts() {
		if info, err := os.Stat(filepath.Join(part, "cards.csv")); err == nil && info.Size() > 0 {
			return true
		}
	}
	return false
}

// A run that is interrupted leaves nothing. One that is killed cannot clean up:
// it spoils nothing, and the next run clears away what it left.
func TestStoppedRun(t *testing.T) {
	t.Parallel()
	r := newLongRun(t)
	r.roster(longCards)
	status, said := r.signal(syscall.SIGINT)
	if status != exitStopped || said != "unspool: stopped; nothing was written\n" {
		t.Errorf("interrupted: status %d, %q", status, said)
	}
	if r.report() != r.old {
		t.Error("interrupted: the results of the earlier run have changed")
	}
	if left := r.parts(); len(left) > 0 {
		t.Errorf("interrupted: %v are left over", left)
	}

	if status, said := r.signal(syscall.SIGKILL); status != -1 || said != "" {
		t.Errorf("killed: status %d, %q", status, said)
	}
	if r.report() != r.old {
		t.Error("killed: the results of the earlier run have changed")
	}
	if left := r.parts(); len(left) != 1 {
		t.Errorf("killed: %v are left over", left)
	}

	r.roster(3)
	r.prove()
	if r.report() == r.old {
		t.Error("the later run has not renewed the results")
	}
	if left := r.parts(); len(left) > 0 {
		t.Errorf("the later run leaves %v", left)
	}
}
