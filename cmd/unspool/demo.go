package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"

	"golang.org/x/sync/errgroup"

	"unspool/demo"
	"unspool/folder"
	"unspool/proof"
	"unspool/report"
)

// demoCmd writes the demo programme and proves it.
type demoCmd struct {
	Dir   string `arg:"" optional:"" default:"sundhaven" help:"Folder for the demo (default ${default})."`
	Cards int    `default:"60" help:"How many crew cards (default ${default})."`
}

// Help is shown below the flags.
func (demoCmd) Help() string {
	return `Example:
  unspool demo
  unspool demo big --cards 10000

Writes the crew cards of the invented Sundhaven ferry line and proves them in
three set-ups that differ in the black rule alone: right, too much in resin, too
little. The exit status is 0 where the right one passes and both wrong ones fail
as they should. Run again, it keeps what is there and renews the results.`
}

// maxDemo bounds the crew.
const maxDemo = 100_000

// Run writes and proves the demo.
func (c *demoCmd) Run(ctx context.Context, con *console) error {
	if c.Cards < 1 || c.Cards > maxDemo {
		return fmt.Errorf("--cards %d: name a number from 1 to %d", c.Cards, maxDemo)
	}
	if err := c.mayWrite(); err != nil {
		return err
	}
	if err := folder.Make(c.Dir); err != nil {
		return err
	}
	err := c.files(ctx, con)
	if err == nil {
		err = c.proofs(ctx, con)
	}
	if errors.Is(err, context.Canceled) {
		return errHalfway
	}
	return err
}

// proofs proves the three set-ups and shows them side by side.
func (c *demoCmd) proofs(ctx context.Context, con *console) error {
	var shown []report.NamedInput
	asExpected := true
	for _, s := range demo.Setups {
		in, ok, err := c.prove(ctx, con, s)
		if err != nil {
			return err
		}
		shown = append(shown, in)
		asExpected = asExpected && ok
	}
	page, err := report.Compare(shown)
	if err != nil {
		return err
	}
	index := filepath.Join(c.Dir, "proof", "index.html")
	if err := folder.WriteFile(index, page); err != nil {
		return err
	}
	fmt.Fprintf(con.Stdout, "\nThe three side by side: %s\n", index)
	if !asExpected {
		fmt.Fprintln(con.Stderr, "unspool: the demo did not come out as it should; if its files were changed, remove the folder and run again")
		return errFindings
	}
	return nil
}

// mayWrite refuses a folder that holds something else than a demo: a programme
// of the user's own must not get mixed up with invented people.
func (c *demoCmd) mayWrite() error {
	held, err := os.ReadDir(c.Dir)
	if err != nil || len(held) == 0 {
		return nil // a folder that cannot be made says so itself
	}
	for _, s := range demo.Setups[1:] {
		if _, err := os.Stat(filepath.Join(c.Dir, s.File)); err == nil {
			return nil
		}
	}
	return fmt.Errorf("%s holds something that is not the demo (%s); name another folder", c.Dir, held[0].Name())
}

// files writes what is not there yet and leaves alone what is.
func (c *demoCmd) files(ctx context.Context, con *console) error {
	var names [3][]string // by how they were found
	all := 0
	for range demo.Files(c.Cards) {
		all++
	}
	bar := progress(con, "drawing", all, "files")
	defer bar.done()
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for f := range demo.Files(c.Cards) {
		at := filepath.Join(c.Dir, filepath.FromSlash(f.Name))
		had, err := stand(at, f)
		if err != nil {
			return err
		}
		names[had] = append(names[had], f.Name)
		if had != absent {
			bar.step()
			continue
		}
		group.Go(func() error {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			data, err := f.Make()
			if err != nil {
				return err
			}
			defer bar.step()
			return cmp.Or(folder.Make(filepath.Dir(at)), folder.WriteFile(at, data))
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	bar.done()
	c.sayFiles(con.Stdout, names[absent], names[same], names[other])
	return nil
}

// standing is what is found in the place of a file.
type standing uint8

const (
	absent standing = iota
	same
	other
)

// stand compares what is in place with what the demo would write. Portraits take
// long to draw and are not compared.
func stand(at string, f demo.File) (standing, error) {
	old, err := os.ReadFile(at)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return absent, nil
	case err != nil:
		return absent, fmt.Errorf("%w; name another folder for the demo", err)
	case filepath.Ext(at) == ".jpg":
		return same, nil
	}
	data, err := f.Make()
	if err != nil || !bytes.Equal(data, old) {
		return other, err
	}
	return same, nil
}

func (c *demoCmd) sayFiles(out io.Writer, written, kept, changed []string) {
	fmt.Fprintf(out, "Sundhaven demo in %s: ", c.Dir)
	switch {
	case len(kept)+len(changed) == 0:
		fmt.Fprintf(out, "%s written\n", count(len(written), "file"))
	case len(written) == 0:
		fmt.Fprintf(out, "%s kept, results renewed\n", count(len(kept)+len(changed), "file"))
	default:
		fmt.Fprintf(out, "%s written, %s kept, results renewed\n", count(len(written), "file"), count(len(kept)+len(changed), "file"))
	}
	for _, name := range changed {
		fmt.Fprintf(out, "  %s is not as the demo writes it and is kept as it is\n", name)
	}
}

// prove proves one set-up and says whether it came out as it should.
func (c *demoCmd) prove(ctx context.Context, con *console, s demo.Setup) (report.NamedInput, bool, error) {
	f, err := folder.Open(filepath.Join(c.Dir, s.File))
	if err != nil {
		return report.NamedInput{}, false, err
	}
	defer f.Close()
	cmd := proofCmd{Pictures: "sample", Edition: "2016", Margins: 3, Advice: true}
	out := filepath.Join(c.Dir, "proof", s.Folder)
	in, err := cmd.prove(ctx, con, f, out)
	if err != nil {
		return report.NamedInput{}, false, err
	}
	sum := in.Summary
	fmt.Fprintf(con.Stdout, "\n%s (%s): ", s.Title, s.File)
	ok := sum.Good()
	if s.Cause != "" {
		ok = stops(sum, s.Cause)
	}
	switch {
	case !ok:
		fmt.Fprintln(con.Stdout, "NOT as it should be")
	case s.Cause == "":
		fmt.Fprintln(con.Stdout, "passes, as it should")
	default:
		fmt.Fprintln(con.Stdout, "fails, as it should")
	}
	sayReadings(con, sum)
	for _, g := range sum.Groups {
		if g.Level == proof.Stop {
			fmt.Fprintf(con.Stdout, "  %s: %s on %s of %d\n", proof.About(g.ID).Title, g.Element, count(g.Cards, "card"), sum.Cards)
		}
	}
	fmt.Fprintf(con.Stdout, "  details: %s\n", filepath.Join(out, "report.html"))
	return report.NamedInput{Title: s.Title, Lesson: s.Lesson, Report: s.Folder + "/report.html", Input: in}, ok, nil
}

// stops says whether a finding stops the run.
func stops(s *proof.Summary, id string) bool {
	for _, g := range s.Groups {
		if g.ID == id && g.Level == proof.Stop {
			return true
		}
	}
	return false
}
